namespace Derivid.Core.Teaching.Grading;

/// <summary>The points of one report under one rubric, each with its sentence.</summary>
/// <remarks>The same report, unknown, rubric, table version and settings give the same grade.</remarks>
public sealed record Grade
{
    /// <summary>Name of the rubric.</summary>
    public required string RubricName { get; init; }

    /// <summary>Version of the reference table used.</summary>
    public required int TableVersion { get; init; }

    /// <summary>Version of the ranking model used.</summary>
    public required string ModelVersion { get; init; }

    /// <summary>Version of the marking rules used; see <see cref="Grader.MarkingRules"/>. Missing: 1, it was graded before they had one.</summary>
    public int MarkingRules { get; init; } = 1;

    /// <summary>The derivative kinds and spot tests that the course offered. Shape: by key; of none named all counted.</summary>
    public IReadOnlyList<string> Offered { get; init; } = [];

    /// <summary>The criteria. Shape: those of the rubric, in the order of <see cref="CriterionKind"/>.</summary>
    public required IReadOnlyList<GradeLine> Lines { get; init; }

    /// <summary>Sum of the points, but never below 0.</summary>
    public decimal Total => Math.Max(0, Lines.Sum(line => line.Points));

    /// <summary>Sum of the most points.</summary>
    public decimal Maximum => Lines.Sum(line => line.Maximum);
}

/// <summary>The points of one criterion and why.</summary>
/// <param name="Criterion">The criterion.</param>
/// <param name="Points">Points given; below zero where points are taken.</param>
/// <param name="Maximum">Most points it could give; 0 where it only takes.</param>
/// <param name="Sentence">What was found, what was asked for and how the points follow.</param>
/// <param name="TellsIdentity">
/// Whether the sentence gives something of the identity away, so that it is for graders only. The points are not secret
/// once grades are handed out.
/// </param>
public sealed record GradeLine(
    CriterionKind Criterion, decimal Points, decimal Maximum, string Sentence, bool TellsIdentity)
{
    /// <summary>What a student is told in place of a sentence that gives something away. Missing: null, a stock one.</summary>
    public string? ForStudents { get; init; }

    /// <summary>Most points that a person may give for it. Missing: null, the points are worked out.</summary>
    public decimal? ByHand { get; init; }
}

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
            .. Cause("version of the marking rules", $"{Before.MarkingRules}", $"{After.MarkingRules}"),
            .. Before.MarkingRules == After.MarkingRules ? Cause("list of what the course offers", Words(Before.Offered), Words(After.Offered)) : [],
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

    private static string Words(IReadOnlyList<string> offered) => offered.Count == 0 ? "empty" : string.Join(", ", offered);

    private static IEnumerable<string> Cause(string what, string before, string after)
    {
        if (before != after)
        {
            yield return $"The {what} was {before} and is now {after}.";
        }
    }
}

/// <summary>What became of one criterion when a report was graded again.</summary>
/// <param name="Criterion">The criterion.</param>
/// <param name="Before">The line before. Missing: null, it was not marked.</param>
/// <param name="After">The line now. Missing: null, it is not marked any more.</param>
public sealed record LineChange(CriterionKind Criterion, GradeLine? Before, GradeLine? After);
