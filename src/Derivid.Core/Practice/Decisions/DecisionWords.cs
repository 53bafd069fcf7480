namespace Derivid.Core.Practice.Decisions;

/// <summary>How decisions read, on the page and at a terminal alike.</summary>
public static class DecisionWords
{
    /// <summary>Less than this isn't worth a word. Chosen.</summary>
    private const double LeastSaid = 0.02;

    /// <summary>Candidates with their probabilities and what is left, such as "propanone 67 %, butanone 20 %, others 10 %, none of these 3 %".</summary>
    /// <param name="candidates">The candidates.</param>
    /// <param name="noneOfThese">Probability that it is none of the compounds.</param>
    public static string Of(IReadOnlyCollection<DecisionCandidate> candidates, double noneOfThese)
    {
        ArgumentNullException.ThrowIfNull(candidates);
        var others = 1 - noneOfThese - candidates.Sum(candidate => candidate.Probability);
        return string.Join(", ", candidates
            .Select(candidate => (candidate.Name, candidate.Probability))
            .Append(("others", others))
            .Append(("none of these", noneOfThese))
            .Where((said, place) => place == 0 || said.Item2 >= LeastSaid)
            .Select(said => $"{said.Item1} {Percent(said.Item2)}"));
    }

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
            ({ } next, _) => $"go to {next} ({Left(outcome)})",
            (_, DecisionEnd.Named) => $"{outcome.Candidates[0].Name} ({Percent(outcome.Candidates[0].Probability)})",
            (_, DecisionEnd.NoneOfThese) => $"none of these ({Percent(outcome.NoneOfThese)})",
            (_, DecisionEnd.Exhausted) => $"no step left would tell: {Left(outcome)}",
            _ => $"rank again ({outcome.Candidates[0].Name} {Percent(outcome.Candidates[0].Probability)})",
        };
    }

    private static string Left(DecisionOutcome outcome) => Of([.. outcome.Candidates.Take(2)], outcome.NoneOfThese);
}
