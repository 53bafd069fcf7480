using Derivid.Core.Ranking;
using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Core.Teaching.Grading;

/// <summary>Which points of a rubric a laboratory can't earn, or only some of its derivatives can.</summary>
public static class Reach
{
    private const int MostNamed = 12;

    /// <summary>What an instructor should know, and what to change.</summary>
    /// <param name="rubric">The marking rules.</param>
    /// <param name="laboratory">The shelf and what can be done; every key must be one of the table's.</param>
    /// <param name="snapshot">The table.</param>
    /// <returns>Sentences that name compounds of the shelf, for the staff. Shape: empty where everything can be earned.</returns>
    /// <exception cref="ArgumentException">The laboratory names something the table does not have.</exception>
    public static IReadOnlyList<string> Of(Rubric rubric, Laboratory laboratory, TableSnapshot snapshot)
    {
        ArgumentNullException.ThrowIfNull(rubric);
        ArgumentNullException.ThrowIfNull(laboratory);
        ArgumentNullException.ThrowIfNull(snapshot);
        laboratory.Check(snapshot);
        return [.. OfDerivatives(rubric, laboratory, snapshot), .. OfTests(rubric, laboratory)];
    }

    private static IEnumerable<string> OfDerivatives(Rubric rubric, Laboratory laboratory, TableSnapshot snapshot)
    {
        var points = Points(rubric.RangeWidth, rubric.RangeDistance, rubric.Recrystallisation);
        if (points is null)
        {
            yield break;
        }

        var kinds = laboratory.KindKeys.Count == 0 ? snapshot.Kinds : [.. laboratory.KindKeys.Select(snapshot.Kind)];
        var shelf = laboratory.ShelfKeys.Order(StringComparer.Ordinal).Select(key => Find(key, snapshot)).ToList();
        var comparable = shelf.ToDictionary(parent => parent, parent => kinds.Count(kind => IsListed(kind, parent)));
        var none = shelf.FindAll(parent => comparable[parent] == 0);
        if (laboratory.KindKeys.Count == 0)
        {
            yield return $"The course names no derivative, and its rubric gives {points} for them: whichever of the table's is reported counts. Name those that can be made.";
        }

        if (none.Count > 0)
        {
            var better = snapshot.Kinds.Except(kinds)
                .Select(kind => (kind.Kind.Name, Count: none.Count(parent => IsListed(kind, parent))))
                .Where(kind => kind.Count > 0)
                .OrderByDescending(kind => kind.Count).ThenBy(kind => kind.Name, StringComparer.Ordinal)
                .Select(kind => $"{kind.Name} (listed for {kind.Count})").Take(3).ToList();
            var remedy = better.Count == 0 ? "" : $"Offer another derivative as well, such as {string.Join(", ", better)}, or take";
            yield return $"No derivative of the course has a melting range listed for {Names(none, snapshot)}: there the {points} for derivatives count neither way. {(remedy.Length == 0 ? "Take" : remedy)} {(none.Count == 1 ? "it" : "them")} off the shelf.";
        }

        foreach (var kind in laboratory.KindKeys.Count == 0 ? [] : kinds)
        {
            if (shelf.FindAll(parent => comparable[parent] > 0 && !IsListed(kind, parent)) is { Count: > 0 } unlisted)
            {
                yield return $"{kind.Kind.Name} has no melting range listed for {Names(unlisted, snapshot)}: made of {(unlisted.Count == 1 ? "that" : "one of them")}, it counts neither way, and who makes nothing else earns none of the {points} for derivatives. Have another made too, or leave it out of the course.";
            }
        }

        if (shelf.FindAll(parent => comparable[parent] > 0 && comparable[parent] < rubric.ExpectedDerivatives) is { Count: > 0 } few)
        {
            yield return $"The rubric expects {Figure.Count(rubric.ExpectedDerivatives, "derivative")}, and of fewer a melting range is listed for {Names(few, snapshot)}: only as many are expected there. Offer more derivatives, or expect fewer.";
        }
    }

    private static IEnumerable<string> OfTests(Rubric rubric, Laboratory laboratory)
    {
        var points = Points(rubric.TestsFitClaim, rubric.TestsFitCompound);
        if (points is null)
        {
            yield break;
        }

        if (laboratory.SpotTestKeys.Count == 0)
        {
            yield return $"The course names no spot test, and its rubric gives {points} for them: whichever of the table's is reported counts. Name those that can be run, or leave these criteria out of the rubric.";
        }
        else if (laboratory.SpotTestKeys.Count < rubric.ExpectedTests)
        {
            yield return $"The rubric expects {Figure.Count(rubric.ExpectedTests, "spot test")} and the course offers {laboratory.SpotTestKeys.Count}: only as many are expected. Offer more, or expect fewer.";
        }
    }

    /// <summary>What criteria give together, in words. Missing: null, nothing.</summary>
    private static string? Points(params PointsCriterion?[] criteria) =>
        criteria.Sum(criterion => criterion?.Points ?? 0) switch
        {
            0 => null,
            1 => "1 point",
            var points => $"{Criterion.Text(points)} points",
        };

    private static bool IsListed(KindSnapshot kind, int parent) => kind.Listed.Of(parent).Count > 0;

    private static int Find(string key, TableSnapshot snapshot) => snapshot.TryFindParent(key, out var parent) ? parent : -1;

    private static string Names(List<int> parents, TableSnapshot snapshot)
    {
        var named = string.Join(", ", parents.Take(MostNamed).Select(parent => snapshot.Parents[parent].Name));
        return parents.Count <= MostNamed ? named : $"{named} and {parents.Count - MostNamed} more";
    }
}
