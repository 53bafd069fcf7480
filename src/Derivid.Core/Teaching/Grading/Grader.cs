using Derivid.Core.Ranking;

namespace Derivid.Core.Teaching.Grading;

/// <summary>Marks reports.</summary>
/// <remarks>Deterministic and free of side effects: the same call gives the same grade. Thread safety: any.</remarks>
public static class Grader
{
    /// <summary>
    /// Version of the marking rules, apart from what a rubric says: grades by different versions are not of one basis. Raised
    /// whenever the same report could get other points.
    /// </summary>
    /// <remarks>
    /// 1: anything reported counted, and of more derivatives than expected the best. 2: what a course offers counts, and what can
    /// be held against the compound handed out (<see cref="DerivativeShares"/>). 3: a claim is borne out by such evidence only.
    /// </remarks>
    public const int MarkingRules = 3;

    /// <summary>Marks one report.</summary>
    /// <param name="report">What was handed in; every key in it must be one of the table's.</param>
    /// <param name="unknown">What was handed out.</param>
    /// <param name="rubric">The marking rules.</param>
    /// <param name="snapshot">The table version to mark by.</param>
    /// <returns>The points, each with its sentence.</returns>
    /// <exception cref="ArgumentException">
    /// A key is not in the table, the shelf list does not hold the compound handed out, or the rubric has faults.
    /// </exception>
    public static Grade Grade(Report report, Unknown unknown, Rubric rubric, TableSnapshot snapshot)
    {
        ArgumentNullException.ThrowIfNull(report);
        ArgumentNullException.ThrowIfNull(unknown);
        ArgumentNullException.ThrowIfNull(rubric);
        ArgumentNullException.ThrowIfNull(snapshot);
        if (rubric.Faults() is [var fault, ..])
        {
            throw new ArgumentException($"{fault.Criterion} {fault.Field}: {fault.Sentence}".TrimStart(), nameof(rubric));
        }

        if (unknown.ShelfKeys.Count > 0 && !unknown.ShelfKeys.Contains(unknown.ParentKey))
        {
            throw new ArgumentException("The compound handed out is not on the shelf list given with it.", nameof(unknown));
        }

        ArgumentOutOfRangeException.ThrowIfLessThan(report.Attempt, 1);
        var read = new ReadReport(report, unknown, rubric.FarthestCelsius, snapshot);
        return new Grade
        {
            RubricName = rubric.Name,
            TableVersion = snapshot.Table.Version,
            ModelVersion = snapshot.Settings.Version,
            MarkingRules = MarkingRules,
            Offered = [.. unknown.KindKeys.Concat(unknown.SpotTestKeys).Order(StringComparer.Ordinal)],
            Lines = [.. rubric.Criteria().Select(criterion => criterion.Mark(read, rubric))],
        };
    }
}
