namespace Derivid.Core.Teaching.Grading;

/// <summary>What a person gave, took or said about a grade.</summary>
/// <param name="Criterion">The criterion. Missing: null, a comment on the whole report.</param>
/// <param name="Points">Points given in place of those worked out. Missing: null, those worked out stand.</param>
/// <param name="Reason">Why, in words for the student. Missing: null, nothing is said any more.</param>
/// <param name="Computed">Points that were worked out when it was made. Missing: null for a comment.</param>
public sealed record Moderation(CriterionKind? Criterion, decimal? Points, string? Reason, decimal? Computed)
{
    /// <summary>Whether it is for one member of a group alone; else for all who share the report.</summary>
    public bool IsOfOne { get; init; }
}

/// <summary>One line of a grade after moderation.</summary>
/// <param name="Line">The line as worked out.</param>
/// <param name="Moderation">What holds in its place. Missing: null, nothing was changed.</param>
public sealed record ModeratedLine(GradeLine Line, Moderation? Moderation)
{
    /// <summary>Points that count: those given, as far as the criterion allows them.</summary>
    public decimal Points => Moderation?.Points is { } given
        ? Math.Clamp(given, Allowed.Least, Allowed.Most)
        : Line.Points;

    /// <summary>Most points the line can give; those of a criterion marked by hand count once it is marked.</summary>
    public decimal Maximum => Moderation is null ? Line.Maximum : Line.ByHand ?? Line.Maximum;

    /// <summary>Why the points worked out are these; of a criterion marked by hand, once it is marked, only that it is.</summary>
    public string Sentence => Line.ByHand is { } most && Moderation is not null
        ? StudentSentences.MarkedByHand(Points, most)
        : Line.Sentence;

    /// <summary>Whether other points are worked out than when a person looked, or the criterion no longer allows those given.</summary>
    public bool IsOutdated => Moderation?.Points is { } given && (Moderation.Computed != Line.Points || given != Points);

    /// <summary>Points a person may give: none below 0 where points are given, none above 0 where they are taken.</summary>
    public (decimal Least, decimal Most) Allowed =>
        Line.ByHand is { } most ? (0, most)
        : Line.Criterion is CriterionKind.Attempts or CriterionKind.Lateness ? (-Rubric.MostPoints, 0)
        : (0, Line.Maximum);
}

/// <summary>A grade after moderation: the lines as worked out, beside them what persons changed.</summary>
/// <remarks>Grading again works lines out anew and leaves what persons changed; <see cref="ModeratedLine.IsOutdated"/> says where to look again.</remarks>
public sealed record ModeratedGrade
{
    private ModeratedGrade(Grade grade, IReadOnlyList<ModeratedLine> lines, string? comment) =>
        (Grade, Lines, Comment) = (grade, lines, comment);

    /// <summary>The grade as worked out.</summary>
    public Grade Grade { get; }

    /// <summary>The criteria. Shape: those of the grade, in its order.</summary>
    public IReadOnlyList<ModeratedLine> Lines { get; }

    /// <summary>What was said about the whole report. Missing: null, nothing.</summary>
    public string? Comment { get; }

    /// <summary>Sum of the points that count, but never below 0.</summary>
    public decimal Total => Math.Max(0, Lines.Sum(line => line.Points));

    /// <summary>Sum of the most points.</summary>
    public decimal Maximum => Lines.Sum(line => line.Maximum);

    /// <summary>Puts a history over a grade.</summary>
    /// <param name="grade">The grade as worked out.</param>
    /// <param name="history">
    /// What persons changed of one student's. Shape: oldest first; of one criterion the last holds, where the student is of a group the
    /// last that was for them alone, until that is taken back.
    /// </param>
    public static ModeratedGrade Of(Grade grade, IEnumerable<Moderation> history)
    {
        ArgumentNullException.ThrowIfNull(grade);
        ArgumentNullException.ThrowIfNull(history);
        var byWhom = history.ToLookup(moderation => moderation.IsOfOne);
        var (own, shared) = (Last(byWhom[true]), Last(byWhom[false]));
        return new ModeratedGrade(
            grade,
            [.. grade.Lines.Select(line => new ModeratedLine(
                line, own.Lines.GetValueOrDefault(line.Criterion) ?? shared.Lines.GetValueOrDefault(line.Criterion)))],
            own.Comment ?? shared.Comment);
    }

    private static (Dictionary<CriterionKind, Moderation> Lines, string? Comment) Last(IEnumerable<Moderation> history)
    {
        var last = new Dictionary<CriterionKind, Moderation>();
        string? comment = null;
        foreach (var moderation in history)
        {
            if (moderation.Criterion is not { } criterion)
            {
                comment = moderation.Reason;
            }
            else if (moderation.Points is null)
            {
                last.Remove(criterion);
            }
            else
            {
                last[criterion] = moderation;
            }
        }

        return (last, comment);
    }
}
