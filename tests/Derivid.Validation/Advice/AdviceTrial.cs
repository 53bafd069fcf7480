using Derivid.Core.Compounds;
using Derivid.Core.Ranking;

namespace Derivid.Validation.Advice;

/// <summary>How the next step is chosen.</summary>
public enum AdvicePolicy
{
    /// <summary>The first of the service's own next steps.</summary>
    Service,

    /// <summary>The same where a caller gives hazard no weight.</summary>
    ServicePerMinute,

    /// <summary>Two steps looked ahead for the fewest minutes expected: what is to be had.</summary>
    Planner,

    /// <summary>The best order for all students alike, found by search on the fitting half.</summary>
    BestFixed,

    /// <summary>Own boiling or melting point, three tests, then derivatives: the order of many courses.</summary>
    Course,

    /// <summary>Five derivatives, then the tests and the unknown's own boiling or melting point.</summary>
    DerivativesFirst,
}

/// <summary>One thing that can be done next.</summary>
/// <param name="Kind">What sort of work it is; the boiling point stands for the melting point of a solid too.</param>
/// <param name="Key">The derivative kind or spot test. Missing: null, the unknown's own boiling or melting point.</param>
/// <param name="Minutes">Time it takes by the table.</param>
/// <param name="Hazard">Its hazard by the table.</param>
/// <param name="QuestionKey">The question a spot test asks. Missing: null, no test.</param>
public sealed record AdviceStep(
    NextStepKind Kind, string? Key, double Minutes, Hazard Hazard, string? QuestionKey = null);

/// <summary>How one student fared with one policy.</summary>
/// <param name="Minutes">Minutes until an answer had 95 %; all allowed where none came to it.</param>
/// <param name="Steps">Steps taken.</param>
/// <param name="HighHazards">Steps of high hazard among them.</param>
/// <param name="ModerateHazards">Steps of moderate hazard.</param>
/// <param name="IsReached">Whether an answer had 95 %.</param>
/// <param name="IsRight">Whether the leading answer was then right.</param>
public readonly record struct AdviceTrial(
    double Minutes, int Steps, int HighHazards, int ModerateHazards, bool IsReached, bool IsRight);
