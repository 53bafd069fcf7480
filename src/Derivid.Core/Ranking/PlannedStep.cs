namespace Derivid.Core.Ranking;

/// <summary>A step weighed but not yet put into words, which only the few that are shown deserve.</summary>
/// <param name="Kind">What sort of work it is.</param>
/// <param name="Key">The derivative kind or spot test. Missing: null.</param>
/// <param name="ExpectedInformation">Expected fall of the entropy. Units: nats.</param>
/// <param name="Caution">The caution that goes with it, without a deferral. Missing: null, none of its own.</param>
/// <param name="Write">Puts it into words.</param>
internal sealed record PlannedStep(
    NextStepKind Kind, string? Key, double ExpectedInformation, string? Caution, Func<double, NextStep> Write)
{
    /// <summary>Whether it belongs to the identification's own means, rather than a physical constant.</summary>
    public bool IsDerivativeOrTest => Kind is NextStepKind.Derivative or NextStepKind.SpotTest;

    /// <summary>The step in words.</summary>
    public NextStep Written() => Write(ExpectedInformation);
}
