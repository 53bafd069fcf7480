using System.Net.Mime;
using System.Runtime.CompilerServices;
using Derivid.Contracts;

namespace Derivid.Client;

/// <summary>Grading reports. Needs a grader's key.</summary>
public sealed class GradesClient
{
    private const int GradesAPage = 500;

    private static readonly TimeSpan FirstLook = TimeSpan.FromMilliseconds(100);
    private static readonly TimeSpan LongestPause = TimeSpan.FromSeconds(1);

    private readonly Wire _wire;

    internal GradesClient(Wire wire) => _wire = wire;

    /// <summary>Starts grading one, many or all reports of a course.</summary>
    /// <param name="course">The course.</param>
    /// <param name="request">Which, and by what. Missing: all that count, by the course's rubric.</param>
    /// <param name="idempotencyKey">Makes the request count once, however often it is sent. Missing: one of its own.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<GradingStatus> StartAsync(
        string course,
        GradingRequest? request = null,
        string? idempotencyKey = null,
        CancellationToken cancellationToken = default) =>
        _wire.SendAsync<GradingStatus>(
            Wire.Request(HttpMethod.Post, CoursesClient.Of(course) + "/grades", request ?? new GradingRequest()).WithIdempotencyKey(idempotencyKey),
            cancellationToken);

    /// <summary>The gradings of a course, in order of their ids.</summary>
    /// <param name="course">The course.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<GradingStatus> ListGradingsAsync(
        string course, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<GradingStatus>(CoursesClient.Of(course) + "/gradings", cancellationToken);

    /// <summary>How far a grading is.</summary>
    /// <param name="course">The course.</param>
    /// <param name="id">Its id.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<GradingStatus> GetAsync(string course, string id, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<GradingStatus>(Grading(course, id), cancellationToken);

    /// <summary>Looks at a grading again and again until it ends.</summary>
    /// <param name="course">The course.</param>
    /// <param name="id">Its id.</param>
    /// <param name="cancellationToken">Stops looking; the grading goes on.</param>
    /// <returns>Shape: what each look saw; the last is finished.</returns>
    public async IAsyncEnumerable<GradingStatus> FollowAsync(
        string course, string id, [EnumeratorCancellation] CancellationToken cancellationToken = default)
    {
        for (var pause = FirstLook; ; pause = pause * 2 < LongestPause ? pause * 2 : LongestPause)
        {
            var grading = await GetAsync(course, id, cancellationToken);
            yield return grading;
            if (grading.State == GradingState.Finished)
            {
                yield break;
            }

            await Task.Delay(pause, cancellationToken);
        }
    }

    /// <summary>The grades, with every criterion and the sentence that justifies its points.</summary>
    /// <param name="course">The course.</param>
    /// <param name="grading">The grading. Missing: the one published.</param>
    /// <param name="student">Of one student. Missing: of all.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<GradeItem> ListAsync(
        string course, string? grading = null, string? student = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<GradeItem>(
            Address.Of(
                CoursesClient.Of(course) + "/grades", new GradeQuery { Grading = grading, Student = student, Limit = GradesAPage }),
            cancellationToken);

    /// <summary>The grades as a CSV file.</summary>
    /// <param name="course">The course.</param>
    /// <param name="grading">The grading. Missing: the one published.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>The bytes, to be read to their end and disposed of.</returns>
    public async Task<Stream> ExportAsync(
        string course, string? grading = null, CancellationToken cancellationToken = default)
    {
        var request = Wire.Request(
            HttpMethod.Get, Address.Of(CoursesClient.Of(course) + "/grades", new GradeQuery { Grading = grading }));
        request.Headers.Accept.ParseAdd(MediaTypeNames.Text.Csv);
        var answer = await _wire.SendAsync(request, cancellationToken);
        return await answer.Content.ReadAsStreamAsync(cancellationToken);
    }

    /// <summary>Everybody of the roster with a percentage and feedback.</summary>
    /// <param name="course">The course.</param>
    /// <param name="grading">The grading, finished. Missing: the one published.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<GradebookItem> GetGradebookAsync(
        string course, string? grading = null, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<GradebookItem>(
            Address.Of(CoursesClient.Of(course) + "/gradebook", new GradebookQuery { Grading = grading }), cancellationToken);

    /// <summary>The gradebook as a CSV file.</summary>
    /// <param name="course">The course.</param>
    /// <param name="grading">The grading, finished. Missing: the one published.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>The bytes, to be read to their end and disposed of.</returns>
    public async Task<Stream> ExportGradebookAsync(
        string course, string? grading = null, CancellationToken cancellationToken = default)
    {
        var request = Wire.Request(
            HttpMethod.Get, Address.Of(CoursesClient.Of(course) + "/gradebook", new GradebookQuery { Grading = grading }));
        request.Headers.Accept.ParseAdd(MediaTypeNames.Text.Csv);
        var answer = await _wire.SendAsync(request, cancellationToken);
        return await answer.Content.ReadAsStreamAsync(cancellationToken);
    }

    /// <summary>The published grades as a OneRoster 1.2 archive.</summary>
    /// <param name="course">The course.</param>
    /// <param name="query">What the receiving system calls class, category, academic session and school.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>The bytes, to be read to their end and disposed of.</returns>
    public async Task<Stream> ExportOneRosterAsync(
        string course, OneRosterQuery query, CancellationToken cancellationToken = default)
    {
        var answer = await _wire.SendAsync(
            Wire.Request(HttpMethod.Get, Address.Of(CoursesClient.Of(course) + "/gradebook/oneroster.zip", query)), cancellationToken);
        return await answer.Content.ReadAsStreamAsync(cancellationToken);
    }

    /// <summary>What another rubric, table version or model changes.</summary>
    /// <param name="course">The course.</param>
    /// <param name="before">The grading taken as the one before.</param>
    /// <param name="after">The other.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<GradeComparisonItem> CompareAsync(
        string course, string before, string after, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<GradeComparisonItem>(
            $"{Grading(course, before)}/comparison/{Address.Segment(after)}", cancellationToken);

    /// <summary>Changes a line of a report's grade by hand, or comments on the report.</summary>
    /// <param name="course">The course.</param>
    /// <param name="report">The report.</param>
    /// <param name="request">The line, points and reason.</param>
    /// <param name="idempotencyKey">Makes the request count once, however often it is sent. Missing: one of its own.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ModerationItem> ModerateAsync(
        string course,
        string report,
        ModerationRequest request,
        string? idempotencyKey = null,
        CancellationToken cancellationToken = default) =>
        _wire.SendAsync<ModerationItem>(
            Wire.Request(HttpMethod.Post, $"{CoursesClient.Of(course)}/reports/{Address.Segment(report)}/moderations", request).WithIdempotencyKey(idempotencyKey),
            cancellationToken);

    /// <summary>What was changed by hand, oldest first, also what no longer holds.</summary>
    /// <param name="course">The course.</param>
    /// <param name="report">Of one report. Missing: of all.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<ModerationItem> ListModerationsAsync(
        string course, string? report = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<ModerationItem>(
            Address.Of(CoursesClient.Of(course) + "/moderations", new ModerationQuery { Report = report, Limit = GradesAPage }),
            cancellationToken);

    /// <summary>Lets students see their grades. Needs an instructor's key.</summary>
    /// <param name="seen">The course as last seen.</param>
    /// <param name="grading">The grading, finished.</param>
    /// <param name="beforeDue">Whether it is meant although reports could still come in time; else it is refused then.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<Versioned<CourseItem>> PublishAsync(
        Versioned<CourseItem> seen, string grading, bool beforeDue = false, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(seen);
        return _wire.SendVersionedAsync<CourseItem>(
            Wire.Request(
                HttpMethod.Put,
                CoursesClient.Of(seen.Value.Id) + "/publication",
                new GradePublicationRequest { Grading = grading, BeforeDue = beforeDue ? true : null }).Meant(seen.Tag),
            cancellationToken);
    }

    private static string Grading(string course, string id) =>
        $"{CoursesClient.Of(course)}/gradings/{Address.Segment(id)}";
}
