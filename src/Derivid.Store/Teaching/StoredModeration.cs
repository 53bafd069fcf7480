using Derivid.Core.Teaching.Grading;

namespace Derivid.Store.Teaching;

/// <summary>What a person changed about the grade of a report, or said about it. Never changed: another comes after it.</summary>
/// <param name="Id">Its id.</param>
/// <param name="CourseId">The course.</param>
/// <param name="ReportId">The report.</param>
/// <param name="GradingId">The grading looked at. It holds in this one and in those started later, so that what is not published yet changes nothing students see.</param>
/// <param name="Criterion">The criterion. Missing: null, a comment on the whole report.</param>
/// <param name="Points">Points given in place of those worked out. Missing: null, those worked out stand.</param>
/// <param name="Reason">Why, in words for the student. Missing: null, nothing is said any more.</param>
/// <param name="Computed">Points that were worked out at the time. Missing: null for a comment.</param>
/// <param name="Actor">Who did it.</param>
/// <param name="AtUtc">When. Units: UTC.</param>
public sealed record StoredModeration(
    string Id,
    string CourseId,
    string ReportId,
    string GradingId,
    CriterionKind? Criterion,
    double? Points,
    string? Reason,
    double? Computed,
    string Actor,
    DateTime AtUtc)
{
    /// <summary>The one member of the group it is for. Missing: null, all who share the report.</summary>
    public string? StudentKey { get; init; }

    /// <summary>As the laboratory takes it.</summary>
    public Moderation ToModeration() => new(Criterion, (decimal?)Points, Reason, (decimal?)Computed) { IsOfOne = StudentKey is not null };
}
