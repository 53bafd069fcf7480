using System.Net;
using Derivid.Api.Http;

namespace Derivid.Api.Tests.Teaching;

/// <summary>A course for practice: answers are told after handing in, and nothing counts; the same on both engines.</summary>
public abstract class PracticeTests(RunningService service)
{
    private const string OneRosterIds = "classSourcedId=c&categorySourcedId=g&academicSessionSourcedId=t&schoolSourcedId=s";

    private static readonly string Practice = With("\"isPractice\": true");

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task AnswerIsToldOnceItIsHandedInAndToItsStudentOnly()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, Practice);
        var draft = await room.HandInAsync(room.Ann, room.Report("ann", "acetone", isDraft: true));
        var address = $"{room.Address}/reports/{draft.GetProperty("id").GetString()}";
        var begun = await room.Ann.JsonAtAsync(address);
        using var put = await room.PutAsync(room.Ann, address, room.Report("ann", "acetone"));
        var answered = await put.JsonAsync(HttpStatusCode.OK);
        await room.HandInAsync(room.Ben, room.Report("ben", "acetone", isDraft: true));

        using var stranger = await room.Ben.GetAsync(address, Patience);
        var own = Assert.Single(await Classroom.AllAsync(room.Ann, $"{room.Address}/reports"));
        var others = Assert.Single(await Classroom.AllAsync(room.Ben, $"{room.Address}/reports"));

        Assert.All([draft, begun, answered, others], report => Assert.False(report.TryGetProperty("handedOutParent", out _)));
        Assert.Equal(room.Answers["ann"], (await room.Ann.JsonAtAsync(address)).GetProperty("handedOutParent").GetString());
        Assert.Equal(room.Answers["ann"], own.GetProperty("handedOutParent").GetString());
        Assert.Equal(HttpStatusCode.NotFound, stranger.StatusCode);
    }

    [Fact]
    public async Task ReportsOfOtherCoursesTellNothing()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));

        Assert.False(Assert.Single(await Classroom.AllAsync(room.Ann, $"{room.Address}/reports")).TryGetProperty("handedOutParent", out _));
        Assert.False(Assert.Single(await Classroom.AllAsync(room.Grader, $"{room.Address}/reports")).TryGetProperty("handedOutParent", out _));
    }

    [Fact]
    public async Task NothingCountsInGradesGradebookOrResults()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service, Practice);
        await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"]));
        await room.PublishAsync(await room.GradeAsync());

        var grade = Assert.Single(await Classroom.AllAsync(room.Ann, $"{room.Address}/grades"));
        var book = await room.Grader.JsonAtAsync($"{room.Address}/gradebook");
        var csv = (await Classroom.CsvAtAsync(room.Grader, $"{room.Address}/gradebook")).TrimEnd().Split('\n').Skip(1).Select(row => row.TrimEnd('\r'));
        using var results = await room.Instructor.GetAsync($"{room.Address}/gradebook/oneroster.zip?{OneRosterIds}", Patience);

        Assert.True(grade.GetProperty("total").GetDouble() > 0);
        Assert.False(grade.GetProperty("counts").GetBoolean());
        Assert.True(book.GetProperty("isPractice").GetBoolean());
        Assert.All(book.GetProperty("students").EnumerateArray(), row =>
        {
            Assert.False(row.TryGetProperty("percentage", out _));
            Assert.Equal("This course is for practice: nothing of it counts.", row.GetProperty("feedback").GetString());
        });
        Assert.All(csv, row => Assert.Matches("^[a-z0-9]+,(fully graded|not submitted),,(true|false),(true|false),This course is for practice: nothing of it counts\\.$", row));
        Assert.Contains("practice", (string)(await results.ProblemAsync(ProblemTypes.CourseStateForbids))["detail"]!, StringComparison.Ordinal);
    }

    // What counts can't be told, and what was told can't count: an examination's vials least of all.
    [Theory]
    [InlineData("\"isPractice\": false", "\"isPractice\": true")]
    [InlineData("\"isPractice\": true", "\"isPractice\": false")]
    [InlineData("\"isPractice\": true", "\"mostAttempts\": 2")]
    [InlineData("\"isExamination\": true", "\"isPractice\": true")]
    public async Task CourseStaysWhatItWasWhenUnknownsWereHandedOut(string made, string changed)
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync(With(made));
        await room.PutRosterAsync(4);
        using (var before = await room.PutAsync(room.Instructor, room.Address, With(changed)))
        {
            await before.JsonAsync(HttpStatusCode.OK);
        }

        using (var back = await room.PutAsync(room.Instructor, room.Address, With(made)))
        {
            await back.JsonAsync(HttpStatusCode.OK);
        }

        await room.HandOutAsync();
        using var put = await room.PutAsync(room.Instructor, room.Address, With(changed));

        Assert.NotEmpty((await put.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/isPractice"));
        Assert.Equal(made.Contains("Practice\": true", StringComparison.Ordinal), (await room.Ann.JsonAtAsync(room.Address)).GetProperty("isPractice").GetBoolean());
    }

    [Fact]
    public async Task ExaminationIsNoPractice()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        using var made = await room.Instructor.PostAsync(Classroom.Courses, With("\"isPractice\": true, \"isExamination\": true"));

        Assert.Contains("An examination is no practice", (await made.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/isPractice"), StringComparison.Ordinal);
    }

    // One student sits an examination and practises: the ranking of a practice report stays shut to them.
    [Fact]
    public async Task PracticeRanksNothingForWhoeverSitsAnExamination()
    {
        await using var practice = await Classroom.HandedOutAsync(service.Service, With("\"isPractice\": true, \"showsRanking\": true"));
        var report = await practice.HandInAsync(practice.Ann, practice.Report("ann", "acetone"));
        var ranking = $"{practice.Address}/reports/{report.GetProperty("id").GetString()}/ranking";
        using var before = await practice.Ann.GetAsync(ranking, Patience);
        await using var examination = await Classroom.HandedOutAsync(service.Service, With("\"isExamination\": true"));
        await examination.EnrolAsync("s3", practice.AnnActor);
        using var during = await practice.Ann.GetAsync(ranking, Patience);

        Assert.Equal(HttpStatusCode.OK, before.StatusCode);
        await during.ProblemAsync(ProblemTypes.ExaminationOpen);
    }

    // Two courses of one roster and one seed: what practice tells is nothing of what the other handed out.
    [Fact]
    public async Task PracticeOfTheSameSeedIsAnotherDraw()
    {
        await using var practice = await Classroom.HandedOutAsync(service.Service, Practice, others: 20);
        await using var counted = await Classroom.HandedOutAsync(service.Service, others: 20);

        Assert.Empty(practice.Codes.Values.Intersect(counted.Codes.Values));
        Assert.NotEqual(practice.Answers.OrderBy(each => each.Key, StringComparer.Ordinal), counted.Answers.OrderBy(each => each.Key, StringComparer.Ordinal));
    }

    private static string With(string members) => Classroom.Course.Replace("\"mostAttempts\": 2", $"\"mostAttempts\": 2, {members}", StringComparison.Ordinal)
        .Replace("\"mostAttempts\": 2, \"mostAttempts\": 2", "\"mostAttempts\": 2", StringComparison.Ordinal);

    public sealed class OnSqlite(SqliteService service) : PracticeTests(service);

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : PracticeTests(service), IClassFixture<PostgreSqlService>;
}
