using Derivid.Core.Compounds;

namespace Derivid.Core.SpotTests;

/// <summary>A reagent test with a stated outcome.</summary>
public record SpotTest
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

    /// <summary>Whether what is handled can explode: a reagent that dries, or what a used one leaves.</summary>
    /// <remarks>Told first among cautions, apart from <see cref="Hazard"/>, which weighs time against any harm.</remarks>
    public bool CanExplode { get; init; }

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

/// <summary>The question that a family of spot tests asks, such as "does it behave as an aldehyde?".</summary>
/// <remarks>
/// Tests that ask one question are not independent given the compound: an aldehyde impurity in a ketone turns all of
/// them. They share one latent answer, which is contrary to the structure with <paramref name="ContraryRate"/>.
/// </remarks>
/// <param name="Key">Stable key; unique in a table.</param>
/// <param name="Text">The question in words.</param>
/// <param name="ContraryRate">Probability that the sample as a whole answers against its structure.</param>
/// <param name="IsAssumed">Whether the rate is assumed, for want of published ones.</param>
/// <param name="SourceKey">Source of the rate.</param>
public sealed record SpotTestQuestion(
    string Key,
    string Text,
    double ContraryRate,
    bool IsAssumed,
    string SourceKey);

/// <summary>How the parents of one structural class, or one named parent, answer one test.</summary>
/// <param name="TestKey">The test.</param>
/// <param name="Order">Rows of a test are tried in this order; the first that fits the parent applies.</param>
/// <param name="AppliesTo">
/// Features the parent must all have, joined by "+"; "any"; or "parent:" and a parent key for a single exception.
/// See <c>Structures.StructureFeature</c>.
/// </param>
/// <param name="PositiveRate">Probability that a clean sample gives a positive.</param>
/// <param name="AnswersYes">Whether such a parent answers the family's question yes.</param>
/// <param name="IsAssumed">Whether the rate is assumed, for want of published ones.</param>
/// <param name="SourceKey">Source of the behaviour (and of the rate where it is not assumed).</param>
/// <param name="Note">Why, in the words of the bench. Missing: null.</param>
public sealed record SpotTestResponse(
    string TestKey,
    int Order,
    string AppliesTo,
    double PositiveRate,
    bool AnswersYes,
    bool IsAssumed,
    string SourceKey,
    string? Note);

/// <summary>How a spot test turned out.</summary>
public enum SpotTestOutcome
{
    /// <summary>Not run; the same as leaving it out.</summary>
    NotDone,

    /// <summary>A clear positive.</summary>
    Positive,

    /// <summary>A clear negative.</summary>
    Negative,

    /// <summary>Neither; carries no weight.</summary>
    Doubtful,
}
