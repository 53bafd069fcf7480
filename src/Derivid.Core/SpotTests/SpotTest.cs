using Derivid.Core.Compounds;

namespace Derivid.Core.SpotTests;

/// <summary>A reagent test with a stated outcome.</summary>
public sealed record SpotTest
{
    /// <summary>Stable key; unique in a table.</summary>
    public required string Key { get; init; }

    /// <summary>The name shown.</summary>
    public required string Name { get; init; }

    /// <summary>Other names accepted in requests. Shape: may be empty.</summary>
    public IReadOnlyList<string> Synonyms { get; init; } = [];

    /// <summary>The question it asks, shared with the other tests of its family.</summary>
    public required string QuestionKey { get; init; }

    /// <summary>What a positive looks like.</summary>
    public required string PositiveLooksLike { get; init; }

    /// <summary>Read the outcome within this time. Units: min.</summary>
    public required double ReadWithinMinutes { get; init; }

    /// <summary>Rough time to run it. Units: min.</summary>
    public required double Minutes { get; init; }

    /// <summary>Rough hazard class of the reagent.</summary>
    public required Hazard Hazard { get; init; }

    /// <summary>The usual cautions; shown as <see cref="Caution"/> shows them.</summary>
    public required string Cautions { get; init; }

    /// <summary>Probability of a positive from a sample that answers the family's question yes.</summary>
    public required double PositiveRateIfYes { get; init; }

    /// <summary>Probability of a positive from a sample that answers the family's question no.</summary>
    public required double PositiveRateIfNo { get; init; }

    /// <summary>Published false positives and negatives, for the reader.</summary>
    public string? KnownExceptions { get; init; }

    /// <summary>Source of the row.</summary>
    public required string SourceKey { get; init; }
}
