namespace Derivid.Core.Ranking;

/// <summary>Every number of the ranking model, in one versioned place.</summary>
/// <remarks>The origin of each number stands beside it in seed-tables/model-settings.json. Thread safety: immutable.</remarks>
public sealed record ModelSettings
{
    /// <summary>Version of the model and its numbers; kept with every identification.</summary>
    public required string Version { get; init; }

    /// <summary>Scatter of derivative melting points.</summary>
    public required ScatterSettings DerivativeMelting { get; init; }

    /// <summary>Factor on the core scatter by derivative kind. Shape: kinds left out count 1.</summary>
    public required IReadOnlyDictionary<string, double> ScatterFactorByKind { get; init; }

    /// <summary>Scatter of the unknown's own melting point.</summary>
    public required ScatterSettings ParentMelting { get; init; }

    /// <summary>Scatter of boiling points at standard pressure.</summary>
    public required ScatterSettings Boiling { get; init; }

    /// <summary>
    /// Mean by which a boiling point is read low: bulb too high, too little vapour. Units: °C. Bounds: 0 up; 0 for none.
    /// </summary>
    public required double BoilingLowCelsius { get; init; }

    /// <summary>Impurity depression.</summary>
    public required DepressionSettings Depression { get; init; }

    /// <summary>Colour calls.</summary>
    public required ColourSettings Colour { get; init; }

    /// <summary>What comes when the unknown is mixed with a reagent.</summary>
    public required PrecipitateSettings Precipitate { get; init; }

    /// <summary>The alternative "none of these".</summary>
    public required OpenSetSettings OpenSet { get; init; }

    /// <summary>Liquid or solid.</summary>
    public required StateSettings State { get; init; }

    /// <summary>Probability of finding an element that is not there.</summary>
    public required double ElementFalsePositive { get; init; }

    /// <summary>Probability of missing an element that is there.</summary>
    public required double ElementFalseNegative { get; init; }

    /// <summary>Share of gross errors in a molar mass, even from 0 to 600 g/mol.</summary>
    public required double MolarMassGrossShare { get; init; }

    /// <summary>
    /// Candidates whose log likelihood ratios differ by less than this cannot be told apart. Natural logarithm.
    /// </summary>
    public required double GroupLogRatio { get; init; }
}
