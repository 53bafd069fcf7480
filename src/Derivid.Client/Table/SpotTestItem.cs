namespace Derivid.Client.Table;

/// <summary>A spot test, the question it asks and how parents answer it.</summary>
public sealed record SpotTestItem
{
    /// <summary>Stable key.</summary>
    public required string Key { get; init; }

    /// <summary>The name shown.</summary>
    public required string Name { get; init; }

    /// <summary>Other names accepted in requests.</summary>
    public required IReadOnlyList<string> Synonyms { get; init; }

    /// <summary>The question it shares with the other tests of its family.</summary>
    public required QuestionItem Question { get; init; }

    /// <summary>What a positive looks like.</summary>
    public required string PositiveLooksLike { get; init; }

    /// <summary>Read the outcome within this time. Units: min.</summary>
    public required double ReadWithinMinutes { get; init; }

    /// <summary>Rough time to run it. Units: min.</summary>
    public required double Minutes { get; init; }

    /// <summary>Rough hazard class; it replaces no risk assessment.</summary>
    public required string Hazard { get; init; }

    /// <summary>The usual cautions; local rules and the supplier's safety data sheet decide.</summary>
    public required string Cautions { get; init; }

    /// <summary>Probability of a positive from a sample that answers the question yes.</summary>
    public required double PositiveRateIfYes { get; init; }

    /// <summary>Probability of a positive from a sample that answers the question no.</summary>
    public required double PositiveRateIfNo { get; init; }

    /// <summary>Published false positives and negatives. Missing: none recorded.</summary>
    public string? KnownExceptions { get; init; }

    /// <summary>Key of the source.</summary>
    public required string Source { get; init; }

    /// <summary>How classes of parents answer it; the first that fits applies.</summary>
    public required IReadOnlyList<ResponseItem> Responses { get; init; }
}
