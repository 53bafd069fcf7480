namespace Derivid.Core.Practice.Decisions;

/// <summary>How decisions read, on the page and at a terminal alike.</summary>
public static class DecisionWords
{
    /// <summary>Candidates with their probabilities, such as "propanone 97 %, butanone 3 %".</summary>
    /// <param name="candidates">The candidates.</param>
    public static string Of(IEnumerable<DecisionCandidate> candidates) =>
        string.Join(", ", candidates.Select(candidate => $"{candidate.Name} {Percent(candidate.Probability)}"));

    /// <summary>A probability in whole per cent, never rounded to certainty or to nothing.</summary>
    /// <param name="probability">The probability.</param>
    public static string Percent(double probability) => probability switch
    {
        > 0 and < 0.005 => "under 1 %",
        < 1 and >= 0.995 => "over 99 %",
        _ => $"{Figure.Text(100 * probability, 0)} %",
    };

    /// <summary>What to do at a point of decision, or that there is nothing to do.</summary>
    /// <param name="point">The point.</param>
    public static string Heading(this DecisionPoint point)
    {
        ArgumentNullException.ThrowIfNull(point);
        return point.Step is { } step
            ? $"{char.ToUpperInvariant(step.Words[0])}{step.Words[1..]} ({Figure.Text(step.Minutes, 0)} min, {step.Hazard.ToString().ToLowerInvariant()} hazard)"
            : "Nothing that the laboratory has tells these apart";
    }

    /// <summary>Where an outcome leads.</summary>
    /// <param name="outcome">The outcome.</param>
    public static string LeadsTo(this DecisionOutcome outcome)
    {
        ArgumentNullException.ThrowIfNull(outcome);
        return (outcome.Next, outcome.End) switch
        {
            ({ } next, _) => $"go to {next} ({Of(outcome.Candidates)})",
            (_, DecisionEnd.Named) => $"{outcome.Candidates[0].Name} ({Percent(outcome.Candidates[0].Probability)})",
            (_, DecisionEnd.Exhausted) => $"no step left would tell: {Of(outcome.Candidates)}",
            _ => $"have it ranked again ({Of(outcome.Candidates.Take(2))})",
        };
    }
}
