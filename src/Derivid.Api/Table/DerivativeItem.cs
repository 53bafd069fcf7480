using Derivid.Core.Compounds;

namespace Derivid.Api.Table;

/// <summary>One printed melting range of one derivative of one parent.</summary>
public sealed record DerivativeItem
{
    /// <summary>Stable key of the record.</summary>
    public required string Key { get; init; }

    /// <summary>Key of the parent.</summary>
    public required string Parent { get; init; }

    /// <summary>Name of the parent.</summary>
    public required string ParentName { get; init; }

    /// <summary>Key of the derivative kind.</summary>
    public required string Kind { get; init; }

    /// <summary>Carbonyl groups that reacted.</summary>
    public required int CarbonylsCondensed { get; init; }

    /// <summary>Polymorph, E/Z form, enantiomer or hydrate. Missing: unstated.</summary>
    public string? Form { get; init; }

    /// <summary>Lower end of the printed range. Units: °C.</summary>
    public required double LowCelsius { get; init; }

    /// <summary>Upper end of the printed range. Units: °C.</summary>
    public required double HighCelsius { get; init; }

    /// <summary>Whether it lies outside the usual span of its kind: a curator looked again, and it stands.</summary>
    public required bool IsUnusual { get; init; }

    /// <summary>Whether the source says it melts with decomposition.</summary>
    public required bool Decomposes { get; init; }

    /// <summary>Key of the recorded colour. Missing: none recorded.</summary>
    public string? Colour { get; init; }

    /// <summary>Key of the source.</summary>
    public required string Source { get; init; }

    /// <summary>Table, page or entry. Missing: not recorded.</summary>
    public string? Locator { get; init; }

    /// <summary>The range as the source prints it, or as recalled.</summary>
    public required string AsPrinted { get; init; }

    /// <summary>Whether the source says the thermometer was corrected. Missing: unstated.</summary>
    public bool? Corrected { get; init; }

    /// <summary>How far the value was followed back.</summary>
    public required Verification Verification { get; init; }

    /// <summary>A curator's remark. Missing: none.</summary>
    public string? Note { get; init; }

    /// <summary>Translates.</summary>
    /// <param name="derivative">The row.</param>
    /// <param name="table">The table it stands in.</param>
    public static DerivativeItem Of(Derivative derivative, ServedTable table)
    {
        ArgumentNullException.ThrowIfNull(derivative);
        ArgumentNullException.ThrowIfNull(table);
        return new DerivativeItem
        {
            Key = derivative.Key,
            Parent = derivative.ParentKey,
            ParentName = table.ParentByKey[derivative.ParentKey].Name,
            Kind = derivative.KindKey,
            CarbonylsCondensed = derivative.CarbonylsCondensed,
            Form = derivative.Form,
            LowCelsius = derivative.LowCelsius,
            HighCelsius = derivative.HighCelsius,
            IsUnusual = derivative.IsUnusual,
            Decomposes = derivative.Decomposes,
            Colour = derivative.ColourKey,
            Source = derivative.SourceKey,
            Locator = derivative.Locator,
            AsPrinted = derivative.AsPrinted,
            Corrected = derivative.Corrected,
            Verification = derivative.Verification,
            Note = derivative.Note,
        };
    }
}
