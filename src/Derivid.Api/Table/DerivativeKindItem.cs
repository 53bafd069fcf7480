using Derivid.Core.Compounds;

namespace Derivid.Api.Table;

/// <summary>A kind of derivative, with its reagent and what to expect of it.</summary>
public sealed record DerivativeKindItem
{
    /// <summary>Stable key.</summary>
    public required string Key { get; init; }

    /// <summary>The name shown.</summary>
    public required string Name { get; init; }

    /// <summary>Other names accepted in requests.</summary>
    public required IReadOnlyList<string> Synonyms { get; init; }

    /// <summary>The reagent.</summary>
    public required ReagentItem Reagent { get; init; }

    /// <summary>Molecules of reagent taken up by one carbonyl group.</summary>
    public required int ReagentsPerCarbonyl { get; init; }

    /// <summary>Molecules of water given off by one carbonyl group.</summary>
    public required int WatersPerCarbonyl { get; init; }

    /// <summary>The ring that a 1,3-dicarbonyl compound may close with the reagent instead. Missing: none.</summary>
    public ClosedRing? ClosesTo { get; init; }

    /// <summary>Key of the spot test run with the reagent, which is the same mixing. Missing: none.</summary>
    public string? TestKey { get; init; }

    /// <summary>Whether its colour says something about the parent.</summary>
    public required bool ColourInforms { get; init; }

    /// <summary>Solvents it is usually recrystallised from.</summary>
    public required string RecrystallisationSolvents { get; init; }

    /// <summary>Usual lowest melting point. Units: °C.</summary>
    public required double UsualLowCelsius { get; init; }

    /// <summary>Usual highest melting point. Units: °C.</summary>
    public required double UsualHighCelsius { get; init; }

    /// <summary>Rough time to make, dry and melt it. Units: min.</summary>
    public required double Minutes { get; init; }

    /// <summary>Rough hazard class; it replaces no risk assessment.</summary>
    public required Hazard Hazard { get; init; }

    /// <summary>The usual cautions.</summary>
    public required string Cautions { get; init; }

    /// <summary>Key of the source.</summary>
    public required string Source { get; init; }

    /// <summary>How many records of this kind the table holds.</summary>
    public required int Records { get; init; }

    /// <summary>Colours expected by structural class; the first class that fits applies.</summary>
    public required IReadOnlyList<ColourExpectationItem> ColourExpectations { get; init; }

    /// <summary>Translates.</summary>
    /// <param name="kind">The row.</param>
    /// <param name="table">The table it stands in.</param>
    public static DerivativeKindItem Of(DerivativeKind kind, ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(kind);
        ArgumentNullException.ThrowIfNull(table);
        return new DerivativeKindItem
        {
            Key = kind.Key,
            Name = kind.Name,
            Synonyms = kind.Synonyms,
            Reagent = new ReagentItem(kind.ReagentName, kind.ReagentSmiles, kind.ReagentFormula, kind.ReagentMolarMass),
            ReagentsPerCarbonyl = kind.ReagentsPerCarbonyl,
            WatersPerCarbonyl = kind.WatersPerCarbonyl,
            ClosesTo = kind.ClosesTo,
            TestKey = kind.TestKey,
            ColourInforms = kind.ColourInforms,
            RecrystallisationSolvents = kind.RecrystallisationSolvents,
            UsualLowCelsius = kind.UsualLowCelsius,
            UsualHighCelsius = kind.UsualHighCelsius,
            Minutes = kind.Minutes,
            Hazard = kind.Hazard,
            Cautions = kind.Cautions,
            Source = kind.SourceKey,
            Records = table.Derivatives.Count(d => d.KindKey == kind.Key),
            ColourExpectations = [.. table.ColourExpectations
                .Where(e => e.KindKey == kind.Key)
                .Select(e => ColourExpectationItem.Of(e, table.Colours))],
        };
    }
}
