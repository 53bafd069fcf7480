namespace Derivid.Core.Teaching.Grading;

/// <summary>Two grades of one report, side by side: under another rubric, another table version or another model.</summary>
public sealed record GradeComparison
{
    private GradeComparison(Grade before, Grade after)
    {
        Before = before;
        After = after;
        Changes = [.. Enum.GetValues<CriterionKind>()
            .Select(kind => new LineChange(kind, Find(before, kind), Find(after, kind)))
            .Where(change => change.Before != change.After)];
    }

    /// <summary>The grade before.</summary>
    public Grade Before { get; }

    /// <summary>The grade now.</summary>
    public Grade After { get; }

    /// <summary>Criteria whose points, most points or sentence differ. Shape: in the order of <see cref="CriterionKind"/>; may be empty.</summary>
    public IReadOnlyList<LineChange> Changes { get; }

    /// <summary>Total now less total before.</summary>
    public decimal TotalDifference => After.Total - Before.Total;

    /// <summary>What the two were graded by, where it differs. Shape: may be empty.</summary>
    public IReadOnlyList<string> Causes =>
        [
            .. Cause("rubric", Before.RubricName, After.RubricName),
            .. Cause("table version", $"{Before.TableVersion}", $"{After.TableVersion}"),
            .. Cause("model version", Before.ModelVersion, After.ModelVersion),
        ];

    /// <summary>Compares.</summary>
    /// <param name="before">The grade before.</param>
    /// <param name="after">The grade now, of the same report.</param>
    public static GradeComparison Between(Grade before, Grade after)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        return new GradeComparison(before, after);
    }

    private static GradeLine? Find(Grade grade, CriterionKind kind) =>
        grade.Lines.FirstOrDefault(line => line.Criterion == kind);

    private static IEnumerable<string> Cause(string what, string before, string after)
    {
        if (before != after)
        {
            yield return $"The {what} was {before} and is now {after}.";
        }
    }
}
