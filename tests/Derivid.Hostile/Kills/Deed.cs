using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Derivid.Core.Teaching;
using Derivid.Hostile.Fuzzing;

namespace Derivid.Hostile.Kills;

/// <summary>Something that is written, and cut off by a kill.</summary>
internal abstract class Deed
{
    /// <summary>All there are, by name, each new.</summary>
    public static IReadOnlyDictionary<string, Func<Deed>> All { get; } = new Dictionary<string, Func<Deed>>
    {
        ["identifications"] = () => new Identifying(),
        ["batch"] = () => new Batch(),
        ["import"] = () => new Importing(),
        ["release"] = () => new Releasing(),
        ["hand-out"] = () => new HandingOut(),
        ["grading"] = () => new GradingReports(),
        ["deletion"] = () => new DeletingCourse(),
    };

    /// <summary>Whether the service said that it is done, all of it, before it was killed.</summary>
    public bool IsAcknowledged { get; protected set; }

    protected static CancellationToken Patience => TestContext.Current.CancellationToken;

    /// <summary>Makes what it is done to, anew for each time.</summary>
    public abstract Task PrepareAsync(Site site);

    /// <summary>Does it. Ends by an exception when the service is killed meanwhile.</summary>
    public abstract Task DoAsync(Site site);

    /// <summary>
    /// Asserts, after a restart, that what was acknowledged is there, that nothing is there twice or half, and that doing it
    /// again comes to the one result.
    /// </summary>
    /// <returns>Whether it was found done before it was done again.</returns>
    public abstract Task<bool> AssertWholeAsync(Site site);

    /// <summary>Asserts that the audit log tells of an act as often as it happened.</summary>
    protected static async Task AssertAuditedAsync(Site site, string action, string resource, int times)
    {
        var told = site.As(Who.Administrator).Audit.ListAsync(new AuditQuery { Action = action, Resource = resource }, Patience);
        Assert.Equal(times, await told.CountAsync(Patience));
    }
}

/// <summary>Identifications stored one by one, by four senders at once.</summary>
internal sealed class Identifying : Deed
{
    private const int Count = 100;

    private readonly Dictionary<string, (string Id, string Answer)> _acknowledged = [];
    private int _series;

    public override Task PrepareAsync(Site site)
    {
        _acknowledged.Clear();
        _series++;
        return Task.CompletedTask;
    }

    public override async Task DoAsync(Site site)
    {
        IsAcknowledged = false;
        await Parallel.ForEachAsync(Observations(), new ParallelOptions { MaxDegreeOfParallelism = 4 }, async (observation, cancellation) =>
        {
            using var response = await SendAsync(site, observation);
            var answer = await response.Content.ReadAsStringAsync(cancellation);
            Assert.Equal(System.Net.HttpStatusCode.Created, response.StatusCode);
            lock (_acknowledged)
            {
                _acknowledged.Add(observation, (JsonElement.Parse(answer).GetProperty("id").GetString()!, answer));
            }
        });
        IsAcknowledged = true;
    }

    public override async Task<bool> AssertWholeAsync(Site site)
    {
        foreach (var (id, answer) in _acknowledged.Values)
        {
            Assert.Equal(answer, await site.Service.Client.GetStringAsync($"/api/v1/identifications/{id}", Patience));
        }

        var stored = 0;
        foreach (var observation in Observations())
        {
            // Sent again it is stored, before or now, and not told which; so it is looked for first.
            using var unstored = await SendAsync(site, observation, "?store=false");
            var told = JsonElement.Parse(await unstored.Content.ReadAsStringAsync(Patience)).GetProperty("id").GetString();
            using (var found = await site.Service.Client.GetAsync($"/api/v1/identifications/{told}", Patience))
            {
                stored += found.IsSuccessStatusCode ? 1 : 0;
            }

            using var again = await SendAsync(site, observation);
            var answer = await again.Content.ReadAsStringAsync(Patience);
            Assert.Equal(System.Net.HttpStatusCode.Created, again.StatusCode);
            if (_acknowledged.TryGetValue(observation, out var before))
            {
                Assert.Equal(before.Answer, answer);
            }

            // Whole: what is stored comes out of what was asked.
            var id = JsonElement.Parse(answer).GetProperty("id").GetString();
            Assert.Equal(answer, await site.Service.Client.GetStringAsync($"/api/v1/identifications/{id}/replay", Patience));
        }

        Assert.InRange(stored, _acknowledged.Count, Count);
        return stored == Count;
    }

    private static async Task<HttpResponseMessage> SendAsync(Site site, string observation, string query = "")
    {
        using var content = new StringContent(observation, Encoding.UTF8, "application/json");
        return await site.Service.Client.PostAsync("/api/v1/identifications" + query, content, Patience);
    }

    private IEnumerable<string> Observations() => Enumerable.Range(0, Count).Select(number => string.Create(
        CultureInfo.InvariantCulture,
        $$"""{ "molarMass": { "gramsPerMole": {{100 + (0.1 * number):0.0}}, "uncertaintyGramsPerMole": {{1 + (0.01 * _series):0.00}} }, "maximumCandidates": 3 }"""));
}

/// <summary>A batch, whose answer is read while it comes.</summary>
internal sealed partial class Batch : Deed
{
    private const int Count = 400;

    private readonly StringBuilder _read = new();
    private int _series;

    public override Task PrepareAsync(Site site)
    {
        _read.Clear();
        _series++;
        return Task.CompletedTask;
    }

    public override async Task DoAsync(Site site)
    {
        IsAcknowledged = false;
        using var response = await SendAsync(site, HttpCompletionOption.ResponseHeadersRead);
        Assert.Equal(System.Net.HttpStatusCode.OK, response.StatusCode);
        using var answer = new StreamReader(await response.Content.ReadAsStreamAsync(Patience));
        var letters = new char[16 * 1024];
        while (await answer.ReadAsync(letters, Patience) is > 0 and var read)
        {
            _read.Append(letters, 0, read);
        }

        IsAcknowledged = true;
    }

    public override async Task<bool> AssertWholeAsync(Site site)
    {
        var told = Ids(_read.ToString());
        var acknowledged = told.Take(Stored().Count(_read.ToString())).ToList();
        Assert.True(!IsAcknowledged || acknowledged.Count == Count, $"{acknowledged.Count} of {Count} results were said to be stored.");
        foreach (var id in acknowledged)
        {
            await site.As(Who.Stranger).Identifications.GetAsync(id, Patience);
        }

        var all = Enumerable.Range(0, Count).Select(Observed).ToList();
        using var again = await SendAsync(site, HttpCompletionOption.ResponseContentRead);
        var answer = await again.Content.ReadAsStringAsync(Patience);
        Assert.Equal(told, Ids(answer).Take(told.Count));
        Assert.Equal(all.Count, Ids(answer).Distinct().Count());
        Assert.Equal(all.Count, Stored().Count(answer));
        return acknowledged.Count == Count;
    }

    private static List<string> Ids(string answer) => [.. Id().Matches(answer).Select(match => match.Groups[1].Value)];

    private async Task<HttpResponseMessage> SendAsync(Site site, HttpCompletionOption until)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, "/api/v1/identification-batches");
        request.Headers.Authorization = new("Bearer", site.Keys[Who.Stranger]);
        request.Content = new StringContent($$"""{ "items": [{{string.Join(',', Enumerable.Range(0, Count).Select(Observed))}}] }""", Encoding.UTF8, "application/json");
        return await site.Service.Client.SendAsync(request, until, Patience);
    }

    private string Observed(int number) => string.Create(
        CultureInfo.InvariantCulture,
        $$"""{ "observation": { "molarMass": { "gramsPerMole": {{150 + (0.1 * number):0.0}}, "uncertaintyGramsPerMole": {{1 + (0.01 * _series):0.00}} }, "maximumCandidates": 1 } }""");

    [GeneratedRegex("\"identification\":\\{\"id\":\"([a-z0-9]+)\"")]
    private static partial Regex Id();

    [GeneratedRegex("\"isStored\":true\\}[,\\]]")]
    private static partial Regex Stored();
}

/// <summary>A file of made-up sources into a proposal.</summary>
internal sealed class Importing : Deed
{
    private const int Rows = 3_000;

    private static readonly byte[] Csv = Encoding.UTF8.GetBytes(
        "key,citation,address,grade,family,how_read\n"
        + string.Concat(Enumerable.Range(0, Rows).Select(row => $"zz-{row},Made up number {row},,compiled,made-up,memory\n")));

    private ProposalItem? _proposal;
    private string _key = "";
    private string? _import;

    public override async Task PrepareAsync(Site site)
    {
        _proposal = await site.As(Who.Instructor).Proposals.CreateAsync(new ProposalRequest { Title = "To be cut off" }, cancellationToken: Patience);
        (_key, _import) = (Guid.NewGuid().ToString(), null);
    }

    public override async Task DoAsync(Site site)
    {
        IsAcknowledged = false;
        _import = (await StartAsync(site, _key)).Id;
        Assert.Equal(ImportState.Succeeded, (await EndedAsync(site, _import)).State);
        IsAcknowledged = true;
    }

    public override async Task<bool> AssertWholeAsync(Site site)
    {
        var proposals = site.As(Who.Instructor).Proposals;
        var found = await proposals.GetAsync(_proposal!.Id, Patience);
        var first = await (found.Revision == _proposal.Revision || _import is not null ? AgainAsync(site) : Task.FromResult<ImportItem?>(null));
        var isTaken = first?.State == ImportState.Succeeded;
        Assert.True(isTaken || !IsAcknowledged, $"An import that had succeeded is {first?.State}.");
        if (first?.State == ImportState.Interrupted)
        {
            Assert.Equal(_proposal.Revision, (await proposals.GetAsync(_proposal.Id, Patience)).Revision);
            Assert.Equal(0, await proposals.ListChangesAsync(_proposal.Id, cancellationToken: Patience).CountAsync(Patience));
            var second = await EndedAsync(site, (await StartAsync(site, Guid.NewGuid().ToString())).Id);
            Assert.Equal(ImportState.Succeeded, second.State);
        }

        Assert.Equal(Rows, await proposals.ListChangesAsync(_proposal.Id, cancellationToken: Patience).CountAsync(Patience));
        return isTaken;
    }

    // With the same key it is the one import, whose id was told if anything was.
    private async Task<ImportItem?> AgainAsync(Site site)
    {
        var again = await StartAsync(site, _key);
        Assert.True(_import is null || again.Id == _import, $"{again.Id} instead of {_import}");
        return await EndedAsync(site, again.Id);
    }

    private async Task<ImportItem> StartAsync(Site site, string key)
    {
        using var file = new MemoryStream(Csv);
        return await site.As(Who.Instructor).Imports.StartAsync(
            _proposal!, new ImportFile("sources", file, ExportFormat.Csv), dryRun: false, idempotencyKey: key, cancellationToken: Patience);
    }

    private static async Task<ImportItem> EndedAsync(Site site, string id) =>
        await site.As(Who.Instructor).Imports.FollowAsync(id, Patience).LastAsync(Patience);
}

/// <summary>The release of a version that differs in one record.</summary>
internal sealed class Releasing : Deed
{
    private ProposalItem? _proposal;

    public override async Task PrepareAsync(Site site)
    {
        var (author, reviewer) = (site.As(Who.Instructor), site.As(Who.Reviewer));
        var submitted = await author.Proposals.SubmitAsync(await Prey.ProposedNoteAsync(author, "cut off"), cancellationToken: Patience);
        _proposal = await reviewer.Proposals.ApproveAsync(submitted, cancellationToken: Patience);
    }

    public override async Task DoAsync(Site site)
    {
        IsAcknowledged = false;
        await site.As(Who.Reviewer).Proposals.ReleaseAsync(_proposal!, cancellationToken: Patience);
        IsAcknowledged = true;
    }

    public override async Task<bool> AssertWholeAsync(Site site)
    {
        var reviewer = site.As(Who.Reviewer);
        var found = await reviewer.Proposals.GetAsync(_proposal!.Id, Patience);
        var current = (await reviewer.Table.GetCurrentVersionAsync(Patience)).Number;
        var isReleased = found.State == ProposalState.Released;
        Assert.True(isReleased || !IsAcknowledged, $"A proposal that had been released is {found.State}.");
        Assert.Equal(_proposal.BaseVersion + (isReleased ? 1 : 0), current);
        var released = isReleased ? found : await reviewer.Proposals.ReleaseAsync(found, cancellationToken: Patience);
        await Assert.ThrowsAsync<DerividException>(() => reviewer.Proposals.ReleaseAsync(released, cancellationToken: Patience));

        Assert.Equal(_proposal.BaseVersion + 1, released.ReleasedVersion);
        Assert.Equal(1, await reviewer.Table.CompareAsync(_proposal.BaseVersion, _proposal.BaseVersion + 1, cancellationToken: Patience).CountAsync(Patience));
        await AssertAuditedAsync(site, "proposal.release", "proposals/" + _proposal.Id, times: 1);
        return isReleased;
    }
}

/// <summary>Unknowns handed out to a class.</summary>
internal sealed class HandingOut : Deed
{
    private const int Students = 60;

    private string _course = "";
    private string _key = "";
    private HandOutItem? _told;

    public override async Task PrepareAsync(Site site)
    {
        _course = await Class.MakeEmptyAsync(site, Enumerable.Range(0, Students).Select(number => $"s{number}"));
        (_key, _told) = (Guid.NewGuid().ToString(), null);
    }

    public override async Task DoAsync(Site site)
    {
        IsAcknowledged = false;
        _told = await HandOutAsync(site);
        IsAcknowledged = true;
    }

    public override async Task<bool> AssertWholeAsync(Site site)
    {
        var before = await AssignmentsAsync(site);
        Assert.True(before.Count == Students || (before.Count == 0 && !IsAcknowledged), $"{before.Count} of {Students} unknowns are there.");
        var again = await HandOutAsync(site);
        var after = await AssignmentsAsync(site);

        Assert.Equal((1, _told?.Seed ?? again.Seed), (again.Number, again.Seed));
        Assert.Equal(Students, after.Select(row => row.Code).Distinct().Count());
        Assert.True(before.Count == 0 || before.SequenceEqual(after), "Other unknowns are handed out than before.");
        await AssertAuditedAsync(site, "course.hand-out", $"courses/{_course}/hand-outs/1", times: 1);
        return before.Count > 0;
    }

    private Task<HandOutItem> HandOutAsync(Site site) =>
        site.As(Who.Instructor).Courses.HandOutAsync(_course, new HandOutRequest(), _key, Patience);

    private async Task<List<AssignmentItem>> AssignmentsAsync(Site site) =>
        await site.As(Who.Instructor).Courses.ListAssignmentsAsync(_course, withIdentities: true, Patience).ToListAsync(Patience);
}

/// <summary>The grading of a class's reports.</summary>
internal sealed class GradingReports : Deed
{
    private static readonly string[] Students = [.. Enumerable.Range(0, 24).Select(number => $"student {number}")];

    private string _course = "";
    private string _key = "";
    private string? _grading;

    public override async Task PrepareAsync(Site site)
    {
        foreach (var student in Students.Except(site.Keys.Keys))
        {
            await site.GiveKeyAsync(student, Role.Student);
        }

        var course = await Class.MakeAsync(site, Students);
        foreach (var student in Students)
        {
            await course.HandInAsync(site, student, isDraft: false);
        }

        (_course, _key, _grading) = (course.Id, Guid.NewGuid().ToString(), null);
    }

    public override async Task DoAsync(Site site)
    {
        IsAcknowledged = false;
        _grading = (await StartAsync(site)).Id;
        await FinishedAsync(site, _grading);
        IsAcknowledged = true;
    }

    public override async Task<bool> AssertWholeAsync(Site site)
    {
        var grades = site.As(Who.Grader).Grades;
        var isThere = _grading is not null || await grades.ListGradingsAsync(_course, Patience).AnyAsync(Patience);
        var again = await StartAsync(site);
        Assert.True(_grading is null || again.Id == _grading, $"{again.Id} instead of {_grading}");
        Assert.True(!IsAcknowledged || again.State == GradingState.Finished, $"A grading that had finished is {again.State}.");
        var finished = await FinishedAsync(site, again.Id);

        Assert.Equal((Students.Length, Students.Length), (finished.Done, finished.Total));
        var given = await grades.ListAsync(_course, again.Id, cancellationToken: Patience).ToListAsync(Patience);
        Assert.Equal(Students.Order(), given.Select(grade => grade.Student).Order());
        Assert.All(given, grade => Assert.NotEmpty(grade.Lines!));
        Assert.Equal(1, await grades.ListGradingsAsync(_course, Patience).CountAsync(Patience));
        return isThere;
    }

    private Task<GradingStatus> StartAsync(Site site) => site.As(Who.Grader).Grades.StartAsync(_course, null, _key, Patience);

    private async Task<GradingStatus> FinishedAsync(Site site, string id) =>
        await site.As(Who.Grader).Grades.FollowAsync(_course, id, Patience).LastAsync(Patience);
}

/// <summary>A graded course put away, and deleted.</summary>
internal sealed class DeletingCourse : Deed
{
    private static readonly string[] Students = [.. Enumerable.Range(0, 12).Select(number => $"student {number}")];

    private string _course = "";
    private string _grading = "";

    public override async Task PrepareAsync(Site site)
    {
        foreach (var student in Students.Except(site.Keys.Keys))
        {
            await site.GiveKeyAsync(student, Role.Student);
        }

        var course = await Class.MakeAsync(site, Students);
        foreach (var student in Students)
        {
            await course.HandInAsync(site, student, isDraft: false);
        }

        _course = course.Id;
        var grades = site.As(Who.Grader).Grades;
        _grading = (await grades.FollowAsync(_course, (await grades.StartAsync(_course, cancellationToken: Patience)).Id, Patience).LastAsync(Patience)).Id;
        var owner = site.As(Who.Instructor);
        await owner.Grades.PublishAsync(await owner.Courses.GetAsync(_course, Patience), _grading, cancellationToken: Patience);
    }

    public override async Task DoAsync(Site site)
    {
        IsAcknowledged = false;
        await FinishAsync(site);
        IsAcknowledged = true;
    }

    public override async Task<bool> AssertWholeAsync(Site site)
    {
        var isDeleted = !await IsThereAsync(site);
        Assert.True(isDeleted || !IsAcknowledged, "A course that had been deleted is there.");
        if (!isDeleted)
        {
            // All of it or nothing: as long as it is there, archived or not yet, so is all that hangs on it.
            var owner = site.As(Who.Instructor);
            Assert.Equal(Students.Length, await owner.Courses.ListAssignmentsAsync(_course, cancellationToken: Patience).CountAsync(Patience));
            Assert.Equal(Students.Length, await owner.Reports.ListAsync(_course, Patience).CountAsync(Patience));
            var given = await owner.Grades.ListAsync(_course, _grading, cancellationToken: Patience).ToListAsync(Patience);
            Assert.Equal(Students.Order(), given.Select(grade => grade.Student).Order());
            Assert.All(given, grade => Assert.NotEmpty(grade.Lines!));
            await FinishAsync(site);
        }

        Assert.False(await IsThereAsync(site));
        await AssertAuditedAsync(site, "course.archive", "courses/" + _course, times: 1);
        await AssertAuditedAsync(site, "course.delete", "courses/" + _course, times: 1);
        return isDeleted;
    }

    private async Task FinishAsync(Site site)
    {
        var courses = site.As(Who.Instructor).Courses;
        var seen = await courses.GetAsync(_course, Patience);
        await courses.DeleteAsync(seen.Value.ArchivedAt is null ? await courses.ArchiveAsync(seen, isArchived: true, Patience) : seen, cancellationToken: Patience);
    }

    private async Task<bool> IsThereAsync(Site site)
    {
        try
        {
            await site.As(Who.Instructor).Courses.GetAsync(_course, Patience);
            return true;
        }
        catch (DerividException fault) when (fault.Status == System.Net.HttpStatusCode.NotFound)
        {
            return false;
        }
    }
}
