using System.Security.Cryptography;
using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>A hand-out worked out, to be kept.</summary>
/// <param name="HandOut">The hand-out.</param>
/// <param name="Assignments">Its unknowns.</param>
public sealed record WorkedHandOut(StoredHandOut HandOut, IReadOnlyList<Assignment> Assignments)
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
    /// <param name="secret">The service's secret.</param>
    /// <param name="table">The version of the table the course holds to.</param>
    /// <param name="now">When. Units: UTC.</param>
    /// <param name="stop">Ends the work; what was not found by then is a problem.</param>
    public static Outcome<WorkedHandOut> Of(
        Course course, IReadOnlyList<CourseStudent> students, HandOutRequest request, ReadOnlySpan<byte> secret, ServedTable table, DateTime now,
        CancellationToken stop)
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
        var roster = Rosters.ToCore(students);
        var result = HandOutDraw.Draw(
            roster.ByGroup(), LaboratoryOf(course), rules, new HandOutSeed(text, secret), table.Snapshot, stop);
        return result.HandOut is { } handOut
            ? Worked(course, handOut, roster, rules, text, table, now)
            : Refused(result.Refusal!, table);
    }

    private static WorkedHandOut Worked(
        Course course, HandOut drawn, Roster roster, HandOutRules rules, string seed, ServedTable table, DateTime now)
    {
        var number = course.HandOutNumber + 1;
        var handOut = new StoredHandOut
        {
            CourseId = course.Id,
            Number = number,
            Seed = seed,
            TableVersion = table.Table.Version,
            ModelVersion = table.ModelVersion,
            ShelfKeys = course.ShelfKeys,
            SummaryJson = JsonSerializer.Serialize(HandOutSummary.Of(rules, drawn), WireJson.Context.HandOutSummary),
            HandedOutAtUtc = now,
        };
        var groups = roster.Seats.ToDictionary(seat => seat.StudentKey, seat => seat.Group, StringComparer.Ordinal);
        return new WorkedHandOut(handOut, [.. drawn.Unknowns.SelectMany(unknown => roster.MembersWith(unknown.StudentKey).Select(member => new Assignment(
            course.Id, number, member, unknown.Number, unknown.Code.Text, unknown.ParentKey)
        {
            HolderKey = unknown.StudentKey,
            GroupName = groups[unknown.StudentKey],
        }))]);
    }

    private static Problem Refused(HandOutRefusal refusal, ServedTable table) =>
        new(ProblemTypes.HandOutImpossible, $"{refusal.Sentence} {refusal.Remedy}") { TableVersion = table.Table.Version };
}
