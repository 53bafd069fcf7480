using System.Net;
using System.Net.Http.Headers;
using System.Text.Json.Nodes;
using Derivid.Api.Http;
using Derivid.Api.Tests.Access;
using Derivid.Core.Teaching;
using Derivid.Store.Databases;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests.Teaching;

/// <summary>Whose course it is, asked as instructor, grader and student of it and of others; the same on both engines. Class and readings are made up.</summary>
public abstract class StaffTests(RunningService service) : IAsyncLifetime
{
    private Classroom? _room;

    private Classroom Room => _room!;

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync() => _room = await Classroom.HandedOutAsync(service.Service);

    public async ValueTask DisposeAsync()
    {
        await Room.DisposeAsync();
        GC.SuppressFinalize(this);
    }

    [Theory]
    [InlineData(Role.Grader)]
    [InlineData(Role.Instructor)]
    public async Task CourseOfOthersIsNotThere(Role role)
    {
        using var stranger = await Room.Service.ClientAsAsync(role);

        Assert.DoesNotContain(await Classroom.AllAsync(stranger, Classroom.Courses), course => course.GetProperty("id").GetString() == Room.Id);
        foreach (var (method, path, _) in AuthorisationMatrix.OfCourses().Where(row => IsFor(role, row)))
        {
            Assert.Equal((path, "not-found"), (path, await AskAsync(stranger, method, path)));
        }
    }

    [Fact]
    public async Task StudentOfACourseIsOneWhateverTheirRole()
    {
        // A roster takes no key of staff; a person signed in can have any role, and databases from before may name such keys.
        using var assistant = await Room.Service.ClientAsAsync(Role.Instructor);
        var actor = await Classroom.ActorAsync(assistant);
        await Room.Service.Services.GetRequiredService<DerividDatabase>().RunAsync(
            (context, token) => context.CourseStudents.Where(student => student.CourseId == Room.Id && student.StudentKey == "s3")
                .ExecuteUpdateAsync(row => row.SetProperty(student => student.Actor, actor), token),
            Patience);

        var seen = await assistant.JsonAtAsync(Room.Address);
        var mine = Assert.Single(await Classroom.AllAsync(assistant, $"{Room.Address}/assignments"));

        Assert.Equal("s3", seen.GetProperty("student").GetString());
        Assert.Equal(Room.Codes["s3"], mine.GetProperty("code").GetString());
        Assert.Contains(await Classroom.AllAsync(assistant, Classroom.Courses), course => course.GetProperty("id").GetString() == Room.Id);
        using (var identities = await assistant.GetAsync($"{Room.Address}/assignments?identities=true", Patience))
        {
            await identities.ProblemAsync(ProblemTypes.ScopeMissing);
        }

        foreach (var (method, path, whose) in AuthorisationMatrix.OfCourses())
        {
            Assert.Equal((path, whose != "own"), (path, await AskAsync(assistant, method, path) == "scope-missing"));
        }
    }

    [Fact]
    public async Task OwnersSayWhoIsOfTheStaff()
    {
        using var other = await Room.Service.ClientAsAsync(Role.Instructor);
        var (owner, otherActor) = (await Classroom.ActorAsync(Room.Instructor), await Classroom.ActorAsync(other));
        await PutStaffAsync(HttpStatusCode.OK, Room.Instructor, Classroom.Member(owner, true), Classroom.Member(otherActor, false));

        Assert.Equal("", await AskAsync(other, "GET", "/api/v1/courses/{id}/roster"));
        Assert.Equal("not-found", await AskAsync(Room.Grader, "GET", "/api/v1/courses/{id}/roster"));
        await PutStaffAsync(HttpStatusCode.Forbidden, other, Classroom.Member(otherActor, true));
        await PutStaffAsync(HttpStatusCode.OK, Room.Instructor, Classroom.Member(otherActor, true));
        Assert.Equal("not-found", await AskAsync(Room.Instructor, "GET", "/api/v1/courses/{id}"));
        var staff = await other.JsonAtAsync($"{Room.Address}/staff");
        Assert.Equal(otherActor, Assert.Single(staff.GetProperty("staff").EnumerateArray()).GetProperty("actor").GetString());
    }

    [Fact]
    public async Task NobodyIsOfTheStaffAndAStudent()
    {
        var owner = await Classroom.ActorAsync(Room.Instructor);
        const string Enrolled = "sign-in:u1 https://institution.example";
        await Room.EnrolAsync("s3", Enrolled);
        await PutStaffAsync(HttpStatusCode.Conflict, Room.Instructor, Classroom.Member(owner, true), Classroom.Member(Enrolled, false));
        using var put = await Room.PutAsync(
            Room.Instructor,
            $"{Room.Address}/roster",
            new JsonObject { ["students"] = new JsonArray(new JsonObject { ["student"] = "ann", ["actor"] = owner }) }.ToJsonString());

        var problem = await put.ProblemAsync(ProblemTypes.CourseStateForbids);

        Assert.Contains(owner, (string?)problem["detail"], StringComparison.Ordinal);
        Assert.Equal(6, (await Room.Instructor.JsonAtAsync($"{Room.Address}/roster")).GetProperty("students").GetArrayLength());
    }

    [Fact]
    public async Task StaffWithoutOwnerTwiceOrMisnamedIsRefused()
    {
        var owner = await Classroom.ActorAsync(Room.Instructor);

        await RefusedAsync("/staff", Classroom.Member(owner, false));
        await RefusedAsync("/staff/1/actor", Classroom.Member(owner, true), Classroom.Member(owner, false));
        await RefusedAsync("/staff/1/actor", Classroom.Member(owner, true), Classroom.Member("Ann", false));
        await RefusedAsync("/staff/1/actor", Classroom.Member(owner, true), Classroom.Member("key:a\u0001", false));
    }

    [Fact]
    public async Task AdministratorSeesEveryCourse()
    {
        using var administrator = await Room.Service.ClientAsAsync(Role.Administrator);

        foreach (var (method, path, _) in AuthorisationMatrix.OfCourses().Where(row => row.Method == "GET" && !row.Path.Contains("Id}", StringComparison.Ordinal)))
        {
            // Grades that are not published are withheld from everybody who names no grading; an export as OneRoster has to name ids.
            var expected = path.Split('/')[^1] switch { "grades" or "gradebook" => "withheld", "oneroster.zip" => "invalid-request", _ => "" };
            Assert.Equal((path, expected), (path, await AskAsync(administrator, method, path)));
        }
    }

    [Fact]
    public async Task StaffIsOfKeysGivenOutToThoseWhoGrade()
    {
        using var instructor = await Room.Service.ClientAsAsync(Role.Instructor);
        var (owner, student, grader) = (await Classroom.ActorAsync(Room.Instructor), Room.AnnActor, await Classroom.ActorAsync(Room.Grader));
        await RefusedAsync("/staff/1/actor", Classroom.Member(owner, true), Classroom.Member("key:0123456789abcdef", false));
        await RefusedAsync("/staff/1/actor", Classroom.Member(owner, true), Classroom.Member(student, false));
        await RefusedAsync("/staff/0/actor", Classroom.Member(grader, true), Classroom.Member(owner, true));

        var people = await Classroom.AllAsync(Room.Grader, "/api/v1/people");
        Assert.DoesNotContain(people, person => person.GetProperty("role").GetString() == "student");
        Assert.Equal(
            ["grader", "instructor", "instructor"],
            new[] { grader, owner, await Classroom.ActorAsync(instructor) }.Select(actor => people.Single(person => person.GetProperty("actor").GetString() == actor).GetProperty("role").GetString()));
    }

    private static bool IsFor(Role role, (string Method, string Path, string Whose) row) =>
        role == Role.Instructor || AuthorisationMatrix.Read()[$"{row.Method} {row.Path}"][AuthorisationMatrix.Askers.ToList().IndexOf("grader")] == "yes";

    private async Task RefusedAsync(string place, params JsonObject[] staff)
    {
        using var put = await SendStaffAsync(Room.Instructor, staff);
        var problem = await put.ProblemAsync(ProblemTypes.InvalidRequest);
        Assert.True(problem["errors"]!.AsObject().ContainsKey(place), problem.ToJsonString());
    }

    private async Task PutStaffAsync(HttpStatusCode expected, HttpClient client, params JsonObject[] staff)
    {
        using var put = await SendStaffAsync(client, staff);
        Assert.Equal(expected, put.StatusCode);
    }

    private Task<HttpResponseMessage> SendStaffAsync(HttpClient client, JsonObject[] staff) =>
        Room.PutAsync(client, $"{Room.Address}/staff", new JsonObject { ["staff"] = new JsonArray([.. staff]) }.ToJsonString());

    /// <summary>The problem that is answered, or nothing.</summary>
    private async Task<string> AskAsync(HttpClient client, string method, string path)
    {
        var address = path.Replace("{id}", Room.Id, StringComparison.Ordinal).Replace("{number}", "1", StringComparison.Ordinal)
            .Replace("{reportId}", "0", StringComparison.Ordinal).Replace("{gradingId}", "0", StringComparison.Ordinal)
            .Replace("{otherId}", "0", StringComparison.Ordinal);
        using var request = new HttpRequestMessage(new HttpMethod(method), address);
        if (method != "GET")
        {
            // A report is read before anything else is looked at, so it has to be one.
            request.Content = Requests.Json("""{ "assignment": "AAAA-AAAA", "observation": { "state": "solid" } }""");
            request.Headers.IfMatch.Add(EntityTagHeaderValue.Parse("\"1\""));
        }

        using var response = await client.SendAsync(request, Patience);
        return response.IsSuccessStatusCode ? "" : ((string)(await response.AnyProblemAsync())["type"]!).Split(':')[^1];
    }

    public sealed class OnSqlite(SqliteService service) : StaffTests(service);

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : StaffTests(service), IClassFixture<PostgreSqlService>;
}
