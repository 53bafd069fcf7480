using Derivid.Contracts;
using Derivid.Core.Compounds;

namespace Derivid.Page.Table;

/// <summary>Words of the table as a reader is told of them.</summary>
public static class TableWords
{
    /// <summary>A carbonyl function.</summary>
    /// <param name="kind">The function.</param>
    public static string Of(ParentKind kind) => kind switch
    {
        ParentKind.Aldehyde => "aldehyde",
        ParentKind.Ketone => "ketone",
        ParentKind.Both => "aldehyde and ketone",
        ParentKind.Masked => "masked carbonyl",
    };

    /// <summary>What a report claims.</summary>
    /// <param name="report">The report.</param>
    public static string Claimed(ReportItem report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return report.ClaimedParent ?? (report.ClaimedKind is { } kind ? Of(kind) : "nothing");
    }

    /// <summary>How common a compound is.</summary>
    /// <param name="commonness">How common. Missing: null, not judged.</param>
    public static string Of(Commonness? commonness) => commonness switch
    {
        Commonness.Everyday => "everyday",
        Commonness.Usual => "usual",
        Commonness.Rare => "rare",
        null => "not judged",
    };

    /// <summary>A physical constant.</summary>
    /// <param name="property">The constant.</param>
    public static string Of(ParentProperty property) => property switch
    {
        ParentProperty.BoilingPoint => "boiling point",
        ParentProperty.MeltingPoint => "melting point",
        ParentProperty.EnthalpyOfFusion => "enthalpy of fusion",
    };
}
