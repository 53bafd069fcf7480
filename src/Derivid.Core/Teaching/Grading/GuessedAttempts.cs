namespace Derivid.Core.Teaching.Grading;

/// <summary>Whether handing in one made-up report on each of several compounds pays, where the best attempt counts.</summary>
/// <remarks>
/// A report made up around a compound of the shelf, the table's own values, is right about one unknown in as many as there are
/// compounds, and earns then whatever can be earned but for what its attempt costs. The others take nothing from it: only the best
/// counts. So N such reports of M compounds gain over a single one, on average, about the sum over the second to the Nth of what
/// the deduction leaves of all points, divided by M; <c>GuesserTests</c> measures what they do gain.
/// </remarks>
public static class GuessedAttempts
{
    // Chosen. Of the usual 34 points 3.4; with eight compounds and two attempts a deduction of 6.8 or more keeps within it.
    private const decimal MostShare = 0.1m;

    /// <summary>What an instructor should know of a course whose best attempt counts, and what to change.</summary>
    /// <param name="rubric">The marking rules.</param>
    /// <param name="mostAttempts">Reports taken on one unknown. Bounds: 1 and more.</param>
    /// <param name="shelf">Compounds on the shelf. Bounds: 1 and more.</param>
    /// <returns>Two sentences. Missing: null, guessing on gains no more than a tenth of the points.</returns>
    public static string? Of(Rubric rubric, int mostAttempts, int shelf)
    {
        ArgumentNullException.ThrowIfNull(rubric);
        ArgumentOutOfRangeException.ThrowIfLessThan(mostAttempts, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(shelf, 1);

        // A person who reads the reasoning isn't taken in.
        var all = rubric.Criteria().OfType<PointsCriterion>().Where(criterion => criterion is not WrittenReasoning).Sum(criterion => criterion.Points);
        var tried = Enumerable.Range(1, Math.Min(mostAttempts, shelf)).TakeWhile(attempt => Cost(attempt) < all).Count();
        var gained = Enumerable.Range(1, tried).Skip(1).Sum(attempt => all - Cost(attempt)) / shelf;
        return gained <= MostShare * all ? null
            : $"The best of {mostAttempts} attempts counts: whoever hands in a report made up around each of {tried} of the {shelf} compounds of the shelf "
            + $"is right in {tried} cases of {shelf}, with up to {Criterion.Text(all)} points, and still {Criterion.Text(all - Cost(tried))} for the last of them. "
            + "Let the last attempt count, allow fewer attempts, or have the rubric take more for each attempt, with a limit that is not so low.";

        decimal Cost(int attempt) => rubric.Attempts?.Taken(attempt) ?? 0;
    }
}
