using System.Net;
using System.Net.Http.Headers;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Store;
using Derivid.Store.Access;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests.Teaching;

/// <summary>Courses put away, and deleted; the same on both engines.</summary>
public abstract class ArchiveTests(RunningService service)
{
    private const string Examination = "\"mostAttempts\": 2, \"isExamination\": true, \"closesAt\": \"2026-03-20T12:00:00Z\"";

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task ArchivedCourseIsReadAndNothingOfItChanges()
    {
        await using var room = await PublishedAsync();
        var before = await room.Ann.JsonAtAsync($"{room.Address}/grades");
        await ArchiveAsync(room);

        using var change = await room.PutAsync(room.Instructor, room.Address, Classroom.Course);
        using var roster = await room.PutAsync(room.Instructor, $"{room.Address}/roster?dropsStudents=true", """{ "students": [{ "student": "new" }] }""");
        using var extensions = await room.PutAsync(room.Instructor, $"{room.Address}/extensions", """{ "extensions": [] }""");
        using var grades = await room.Grader.PostAsync($"{room.Address}/grades", "{}");
        using var report = await room.Ann.PostAsync($"{room.Address}/reports", room.Report("ann", "acetone"));
        foreach (var refused in new[] { change, roster, extensions, grades, report })
        {
            Assert.Contains("archived", (string)(await refused.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!, StringComparison.Ordinal);
        }

        Assert.Equal(before.GetRawText(), (await room.Ann.JsonAtAsync($"{room.Address}/grades")).GetRawText());
        Assert.True((await room.Ann.JsonAtAsync(room.Address)).TryGetProperty("archivedAt", out _));
        foreach (var client in new[] { room.Ann, room.Instructor })
        {
            Assert.DoesNotContain(room.Id, await IdsAsync(client, ""));
            Assert.Contains(room.Id, await IdsAsync(client, "?archived=true"));
        }

        await ArchiveAsync(room, isArchived: false);
        using var again = await room.PutAsync(room.Instructor, room.Address, Classroom.Course);
        await again.JsonAsync(HttpStatusCode.OK);
        Assert.Contains(room.Id, await IdsAsync(room.Ann, ""));
    }

    [Fact]
    public async Task CourseThatTakesReportsIsNeitherArchivedNorDeleted()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        using var archived = await room.PutAsync(room.Instructor, $"{room.Address}/archive", """{ "isArchived": true }""");
        using var deleted = await DeleteAsync(room, room.Instructor);

        Assert.Contains("takes reports", (string)(await archived.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!, StringComparison.Ordinal);
        Assert.Contains("Archive it first", (string)(await deleted.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task ExtensionThatHoldsAClosedCourseOpenIsNamed()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        using (var closed = await room.PutAsync(room.Instructor, room.Address, Classroom.Course.Replace(
            "\"dueAt\": \"2026-03-14T12:00:00Z\"", "\"dueAt\": \"2026-03-14T09:00:00Z\", \"closesAt\": \"2026-03-14T09:00:00Z\"", StringComparison.Ordinal)))
        {
            await closed.JsonAsync(HttpStatusCode.OK);
        }

        await ExtendAsync("""{ "student": "ben", "dueAt": "2026-03-15T12:00:00Z" }""");
        using var refused = await room.PutAsync(room.Instructor, $"{room.Address}/archive", """{ "isArchived": true }""");
        await ExtendAsync("");
        await ArchiveAsync(room);

        Assert.Contains("until 2026-03-15T12:00:00Z: longer has ben.", (string)(await refused.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!, StringComparison.Ordinal);

        async Task ExtendAsync(string extension)
        {
            using var extended = await room.PutAsync(room.Instructor, $"{room.Address}/extensions", $$"""{ "extensions": [{{extension}}] }""");
            await extended.JsonAsync(HttpStatusCode.OK);
        }
    }

    [Fact]
    public async Task OwnersOnlyArchiveAndDelete()
    {
        await using var room = await PublishedAsync();
        using var teacher = await service.Service.ClientAsAsync(Role.Instructor);
        using (var staff = await room.PutAsync(room.Instructor, $"{room.Address}/staff", $$"""
            { "staff": [{ "actor": "{{await Classroom.ActorAsync(room.Instructor)}}", "isOwner": true }, { "actor": "{{await Classroom.ActorAsync(teacher)}}" }] }
            """))
        {
            await staff.JsonAsync(HttpStatusCode.OK);
        }

        using var archived = await room.PutAsync(teacher, $"{room.Address}/archive", """{ "isArchived": true }""");
        await ArchiveAsync(room);
        using var deleted = await DeleteAsync(room, teacher);

        Assert.Contains("owners", (string)(await archived.ProblemAsync(ProblemTypes.ScopeMissing))["detail"]!, StringComparison.Ordinal);
        await deleted.ProblemAsync(ProblemTypes.ScopeMissing);
    }

    [Fact]
    public async Task DeletedCourseLeavesNothingOfItsStudentsButWhoTheyWere()
    {
        await using var room = await PublishedAsync();
        using var keys = await KeysAsync(room, "s3");
        var given = (await keys.JsonAsync(HttpStatusCode.OK)).GetProperty("keys")[0].GetProperty("key").GetString()!;
        using var third = room.Service.ClientWith(given);
        await ArchiveAsync(room);
        using var deleted = await DeleteAsync(room, room.Instructor);
        var told = await deleted.JsonAsync(HttpStatusCode.OK);

        Assert.Equal((2, 1, 1), (told.GetProperty("reports").GetInt32(), told.GetProperty("gradings").GetInt32(), told.GetProperty("revokedKeys").GetInt32()));
        Assert.Equal(CourseDeleted.Remains, told.GetProperty("kept").EnumerateArray().Select(kept => kept.GetString()!));
        foreach (var client in new[] { room.Ann, room.Grader, room.Instructor })
        {
            using var gone = await client.GetAsync(room.Address, Patience);
            Assert.Equal(HttpStatusCode.NotFound, gone.StatusCode);
            Assert.DoesNotContain(room.Id, await IdsAsync(client, "?archived=true"));
        }

        using var revoked = await third.GetAsync("/api/v1/keys/current", Patience);
        Assert.Equal(HttpStatusCode.Unauthorized, revoked.StatusCode);
        await using var context = await ContextAsync(room);
        Assert.Equal(0, await context.CourseReports.CountAsync(row => row.CourseId == room.Id, Patience));
        Assert.Equal(0, await context.Assignments.CountAsync(row => row.CourseId == room.Id, Patience));
        Assert.Equal(0, await context.StoredHandOuts.CountAsync(row => row.CourseId == room.Id, Patience));
        Assert.Equal(0, await context.Gradings.CountAsync(row => row.CourseId == room.Id, Patience));
        Assert.Equal(0, await context.Moderations.CountAsync(row => row.CourseId == room.Id, Patience));
        Assert.Equal(0, await context.ServerSecrets.CountAsync(row => row.Name == ServerSecrets.HandOutsOf(room.Id), Patience));
        Assert.All(
            await context.CourseStudents.Where(row => row.CourseId == room.Id).ToListAsync(Patience),
            student => Assert.Equal((null, null, null, null, false), (student.Bench, student.Place, student.Actor, student.DueAtUtc, student.IsEnrolled)));
        Assert.Contains(await context.CourseActors.Where(row => row.CourseId == room.Id).Select(row => row.Actor).ToListAsync(Patience), actor => actor == room.AnnActor);
    }

    // Ann's key was named as "ann" in a course since deleted; the examination of the same staff enrols an "ann" with another key.
    [Fact]
    public async Task ExaminationKnowsItsStudentsByCoursesThatWereDeletedSince()
    {
        await using var room = await PublishedAsync();
        await ArchiveAsync(room);
        using (var deleted = await DeleteAsync(room, room.Instructor))
        {
            await deleted.JsonAsync(HttpStatusCode.OK);
        }

        using var before = await room.Ann.PostAsync("/api/v1/identifications", """{ "state": "solid" }""");
        await room.MakeAsync(Classroom.Course.Replace("\"mostAttempts\": 2", Examination, StringComparison.Ordinal));
        using (var roster = await room.PutAsync(room.Instructor, $"{room.Address}/roster", """{ "students": [{ "student": "ANN" }, { "student": "x" }] }"""))
        {
            await roster.JsonAsync(HttpStatusCode.OK);
        }

        await room.HandOutAsync();
        using var during = await room.Ann.PostAsync("/api/v1/identifications", """{ "state": "solid" }""");

        Assert.True(before.IsSuccessStatusCode);
        await during.ProblemAsync(ProblemTypes.ExaminationOpen);
    }

    // Two deletions of one revision at once: one deletes, the other finds nothing or another revision.
    [Fact]
    public async Task CourseIsDeletedOnce()
    {
        await using var room = await PublishedAsync();
        await ArchiveAsync(room);
        var answers = await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => DeleteAsync(room, room.Instructor)));

        Assert.Equal(HttpStatusCode.OK, Assert.Single(answers, answer => answer.IsSuccessStatusCode).StatusCode);
        Assert.All(answers.Where(answer => !answer.IsSuccessStatusCode), answer => Assert.True(
            answer.StatusCode is HttpStatusCode.NotFound or HttpStatusCode.PreconditionFailed, answer.StatusCode.ToString()));
    }

    // What was asked for before the course was put away, and is here to its last byte after it.
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task WhatWasBegunBeforeTheCourseWasPutAwayIsRefused(bool isDeleted)
    {
        await using var room = await PublishedAsync();
        var made = Assert.Single(await Classroom.AllAsync(room.Grader, $"{room.Address}/moderations"));
        var (report, grading) = (made.GetProperty("report").GetString(), made.GetProperty("grading").GetString());
        var release = new TaskCompletionSource();
        var grade = await HeldAsync($"{room.Address}/grades", "{ }");
        var moderation = await HeldAsync($"{room.Address}/reports/{report}/moderations", $$"""{ "reason": "Too late", "grading": "{{grading}}" }""");
        await ArchiveAsync(room);
        if (isDeleted)
        {
            using var deleted = await DeleteAsync(room, room.Instructor);
            await deleted.JsonAsync(HttpStatusCode.OK);
        }

        release.SetResult();
        using var graded = await grade;
        using var moderated = await moderation;
        await graded.ProblemAsync(isDeleted ? ProblemTypes.NotFound : ProblemTypes.CourseStateForbids);
        await moderated.ProblemAsync(isDeleted ? ProblemTypes.NotFound : ProblemTypes.CourseStateForbids);
        await using var context = await ContextAsync(room);
        Assert.Equal(isDeleted ? 0 : 1, await context.Gradings.CountAsync(row => row.CourseId == room.Id, Patience));
        Assert.Equal(isDeleted ? 0 : 1, await context.Moderations.CountAsync(row => row.CourseId == room.Id, Patience));

        Task<Task<HttpResponseMessage>> HeldAsync(string address, string json) => room.Service.Held.SendAsync(
            room.Grader, new HttpRequestMessage(HttpMethod.Post, address), json, release.Task);
    }

    private async Task<Classroom> PublishedAsync()
    {
        var room = await Classroom.HandedOutAsync(service.Service);
        var report = await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"]));
        await room.HandInAsync(room.Ben, room.Report("ben", "acetone", isDraft: true));
        var grading = await room.GradeAsync();
        using var moderated = await room.Grader.PostAsync(
            $"{room.Address}/reports/{report.GetProperty("id").GetString()}/moderations", $$"""{ "reason": "Well argued", "grading": "{{grading}}" }""");
        await moderated.JsonAsync(HttpStatusCode.Created);
        await room.PublishAsync(grading);
        return room;
    }

    private static async Task ArchiveAsync(Classroom room, bool isArchived = true)
    {
        using var put = await room.PutAsync(room.Instructor, $"{room.Address}/archive", $$"""{ "isArchived": {{(isArchived ? "true" : "false")}} }""");
        await put.JsonAsync(HttpStatusCode.OK);
    }

    private static Task<HttpResponseMessage> DeleteAsync(Classroom room, HttpClient client) => SendAsync(room, client, HttpMethod.Delete, room.Address, null);

    private static Task<HttpResponseMessage> KeysAsync(Classroom room, string student) =>
        SendAsync(room, room.Instructor, HttpMethod.Post, $"{room.Address}/keys", $$"""{ "students": ["{{student}}"] }""");

    private static async Task<HttpResponseMessage> SendAsync(Classroom room, HttpClient client, HttpMethod method, string address, string? json)
    {
        using var current = await room.Instructor.GetAsync(room.Address, Patience);
        using var request = new HttpRequestMessage(method, address) { Content = json is null ? null : Requests.Json(json) };
        request.Headers.IfMatch.Add(current.Headers.ETag ?? EntityTagHeaderValue.Parse("\"0\""));
        return await client.SendAsync(request, Patience);
    }

    private static async Task<List<string>> IdsAsync(HttpClient client, string query) =>
        [.. (await Classroom.AllAsync(client, Classroom.Courses + query)).Select(course => course.GetProperty("id").GetString()!)];

    private static Task<DerividContext> ContextAsync(Classroom room) =>
        room.Service.Services.GetRequiredService<IDbContextFactory<DerividContext>>().CreateDbContextAsync(Patience);

    public sealed class OnSqlite(SqliteService service) : ArchiveTests(service);

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : ArchiveTests(service), IClassFixture<PostgreSqlService>;
}
