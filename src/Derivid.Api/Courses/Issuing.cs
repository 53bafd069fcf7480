using System.Security.Cryptography;
using System.Text.Json;
using Derivid.Api.Json;
using Derivid.Api.Problems;
using Derivid.Api.Table;
using Derivid.Core.Teaching.Issuing;
using Derivid.Store.Teaching;

namespace Derivid.Api.Courses;

/// <summary>Works out an issue of unknowns for a course.</summary>
public static class Issuing
{
    /// <summary>What the course's laboratory offers.</summary>
    /// <param name="course">The course.</param>
    public static Laboratory LaboratoryOf(Course course)
    {
        ArgumentNullException.ThrowIfNull(course);
        return new Laboratory
        {
            ShelfKeys = course.ShelfKeys,
            KindKeys = course.KindKeys,
            SpotTestKeys = course.SpotTestKeys,
            TakesBoilingPoint = course.TakesBoilingPoint,
            TakesMeltingPoint = course.TakesMeltingPoint,
        };
    }

    /// <summary>Works it out.</summary>
    /// <param name="course">The course.</param>
    /// <param name="students">Its students.</param>
    /// <param name="request">How; its shape has been checked.</param>
    /// <param name="table">The version of the table the course holds to.</param>
    /// <param name="now">When. Units: UTC.</param>
    public static Outcome<Issued> Of(
        Course course, IReadOnlyList<CourseStudent> students, IssueRequest request, ServedTable table, DateTime now)
    {
        ArgumentNullException.ThrowIfNull(course);
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(table);
        if (students.Count == 0)
        {
            return new Problem(ProblemTypes.CourseStateForbids, "The course has no students; put a roster first.");
        }

        var rules = request.ToRules();
        var text = request.Seed ?? Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
        var errors = new FieldErrors();
        if (text.Length < IssuingSeed.ShortestText)
        {
            errors.Add("/seed", $"Has {text.Length} characters, at least {IssuingSeed.ShortestText} are needed: whoever guesses it can work out every answer.");
            return errors.ToProblem()!;
        }

        var result = Issuer.Issue(
            Rosters.ToCore(students), LaboratoryOf(course), rules, new IssuingSeed(text), table.Snapshot);
        return result.Issuance is { } issuance
            ? Issued(course, issuance, rules, text, table, now)
            : Refused(result.Refusal!, table);
    }

    private static Issued Issued(
        Course course, Issuance issuance, IssuingRules rules, string seed, ServedTable table, DateTime now)
    {
        var number = course.IssueNumber + 1;
        var issue = new UnknownIssue
        {
            CourseId = course.Id,
            Number = number,
            Seed = seed,
            TableVersion = table.Table.Version,
            ModelVersion = table.ModelVersion,
            ShelfKeys = course.ShelfKeys,
            SummaryJson = JsonSerializer.Serialize(IssueSummary.Of(rules, issuance), WireJson.Context.IssueSummary),
            IssuedAtUtc = now,
        };
        return new Issued(issue, [.. issuance.Unknowns.Select(unknown => new Assignment(
            course.Id, number, unknown.StudentKey, unknown.Number, unknown.Code.Text, unknown.ParentKey))]);
    }

    private static Problem Refused(IssuingRefusal refusal, ServedTable table) =>
        new(ProblemTypes.IssuingImpossible, $"{refusal.Sentence} {refusal.Remedy}") { TableVersion = table.Table.Version };
}
