namespace Derivid.Core.Ranking;

/// <summary>What a compound outside the table is thought to look like: a relative of one inside.</summary>
/// <remarks>
/// The likelihood of "none of these" is the mean, over the parents of the table, of a likelihood that keeps the parent's
/// colour and tests but spreads its temperatures and molar mass. So an unlisted compound may have any plausible
/// combination of properties, and the alternative stays honest when tests and melting points pull together.
/// </remarks>
public sealed record OpenSetSettings
{
    /// <summary>Prior probability of "none of these".</summary>
    public required double Prior { get; init; }

    /// <summary>Spread of a relative's derivative melting points. Units: °C.</summary>
    public required double DerivativeMeltingCelsius { get; init; }

    /// <summary>Spread of a relative's melting point. Units: °C.</summary>
    public required double ParentMeltingCelsius { get; init; }

    /// <summary>Spread of a relative's boiling point. Units: °C.</summary>
    public required double BoilingCelsius { get; init; }

    /// <summary>Spread of a relative's molar mass. Units: g/mol.</summary>
    public required double MolarMassGramsPerMole { get; init; }

    /// <summary>Share of relatives that are like nothing in the table, even over the working range.</summary>
    public required double EvenShare { get; init; }

    /// <summary>Share of unlisted compounds that are no aldehyde or ketone at all.</summary>
    public required double NotCarbonylShare { get; init; }
}
