using System.Net.Http.Headers;
using System.Net.Mime;
using System.Text;
using Derivid.Contracts;

namespace Derivid.Client;

/// <summary>Courses, their rosters and the unknowns handed out in them. Needs an instructor's key, to read often a grader's.</summary>
public sealed class CoursesClient
{
    private readonly Wire _wire;

    internal CoursesClient(Wire wire) => _wire = wire;

    /// <summary>The courses, in order of their ids.</summary>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<CourseLink> ListAsync(CancellationToken cancellationToken = default) =>
        _wire.ListAsync<CourseLink>("courses", cancellationToken);

    /// <summary>Those that are archived.</summary>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<CourseLink> ListArchivedAsync(CancellationToken cancellationToken = default) =>
        _wire.ListAsync<CourseLink>(Address.Of("courses", new CourseQuery { Archived = true }), cancellationToken);

    /// <summary>Archives a course, or takes it out of the archive. Needs the key of one of its owners, or an administrator's.</summary>
    /// <param name="seen">The course as last seen.</param>
    /// <param name="isArchived">Whether it is to be archived.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<Versioned<CourseItem>> ArchiveAsync(
        Versioned<CourseItem> seen, bool isArchived = true, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(seen);
        var request = Wire.Request(HttpMethod.Put, Of(seen.Value.Id) + "/archive", new ArchiveRequest { IsArchived = isArchived });
        return _wire.SendVersionedAsync<CourseItem>(request.Meant(seen.Tag), cancellationToken);
    }

    /// <summary>Deletes an archived course for good. Needs the key of one of its owners, or an administrator's.</summary>
    /// <param name="seen">The course as last seen.</param>
    /// <param name="reason">Why, for the audit log. Missing: null.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>What was deleted, and what is kept.</returns>
    public Task<CourseDeleted> DeleteAsync(
        Versioned<CourseItem> seen, string? reason = null, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(seen);
        return _wire.SendAsync<CourseDeleted>(Wire.Request(HttpMethod.Delete, Of(seen.Value.Id), reason: reason).Meant(seen.Tag), cancellationToken);
    }

    /// <summary>One course.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<Versioned<CourseItem>> GetAsync(string id, CancellationToken cancellationToken = default) =>
        _wire.SendVersionedAsync<CourseItem>(Wire.Request(HttpMethod.Get, Of(id)), cancellationToken);

    /// <summary>Makes a course.</summary>
    /// <param name="request">The course.</param>
    /// <param name="idempotencyKey">Marks the request, so that sending it again makes no other. Missing: one of its own.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<CourseItem> CreateAsync(
        CourseRequest request, string? idempotencyKey = null, CancellationToken cancellationToken = default) =>
        _wire.SendAsync<CourseItem>(
            Wire.Request(HttpMethod.Post, "courses", request).WithIdempotencyKey(idempotencyKey), cancellationToken);

    /// <summary>Puts another description in place of a course's.</summary>
    /// <param name="seen">The course as last seen.</param>
    /// <param name="request">The description.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<Versioned<CourseItem>> ChangeAsync(
        Versioned<CourseItem> seen, CourseRequest request, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(seen);
        return _wire.SendVersionedAsync<CourseItem>(
            Wire.Request(HttpMethod.Put, Of(seen.Value.Id), request).Meant(seen.Tag), cancellationToken);
    }

    /// <summary>The staff.</summary>
    /// <param name="id">The course.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<IReadOnlyList<StaffMember>> GetStaffAsync(string id, CancellationToken cancellationToken = default) =>
        (await _wire.GetAsync<StaffBody>(Of(id) + "/staff", cancellationToken)).Staff;

    /// <summary>Puts another staff in place of a course's. Needs the key of one of its owners, or an administrator's.</summary>
    /// <param name="seen">The course as last seen.</param>
    /// <param name="staff">Everybody of it, each once, at least one of them an owner.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<IReadOnlyList<StaffMember>> PutStaffAsync(
        Versioned<CourseItem> seen, IReadOnlyList<StaffMember> staff, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(seen);
        var request = Wire.Request(HttpMethod.Put, Of(seen.Value.Id) + "/staff", new StaffBody { Staff = staff });
        return (await _wire.SendAsync<StaffBody>(request.Meant(seen.Tag), cancellationToken)).Staff;
    }

    /// <summary>The roster.</summary>
    /// <param name="id">The course.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<IReadOnlyList<RosterStudent>> GetRosterAsync(
        string id, CancellationToken cancellationToken = default) =>
        (await _wire.GetAsync<RosterBody>(Of(id) + "/roster", cancellationToken)).Students;

    /// <summary>Puts another roster in place of a course's.</summary>
    /// <param name="seen">The course as last seen.</param>
    /// <param name="students">The students, each once.</param>
    /// <param name="query">Whether students with unknowns may fall out. Missing: null, they may not, and the refusal says who would.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<RosterTaken> PutRosterAsync(
        Versioned<CourseItem> seen, IReadOnlyList<RosterStudent> students, RosterQuery? query = null, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(seen);
        var request = Wire.Request(HttpMethod.Put, RosterOf(seen, query), new RosterBody { Students = students });
        return _wire.SendAsync<RosterTaken>(request.Meant(seen.Tag), cancellationToken);
    }

    /// <summary>Puts another roster in place of a course's, as a spreadsheet or a learning system writes it.</summary>
    /// <param name="seen">The course as last seen.</param>
    /// <param name="csv">
    /// Lines parted by commas, semicolons or tabs, the first naming the columns: student, and any of bench, place, neighbours,
    /// actor and group; others are passed over, and the answer says which.
    /// </param>
    /// <param name="query">
    /// Whether students with unknowns may fall out, and which column identifies them. Missing: null, they may not, and the refusal says
    /// who would; "student".
    /// </param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<RosterTaken> PutRosterAsync(
        Versioned<CourseItem> seen, string csv, RosterQuery? query = null, CancellationToken cancellationToken = default)
    {
        var text = new StringContent(csv, Encoding.UTF8, new MediaTypeHeaderValue(MediaTypeNames.Text.Csv));
        return PutRosterAsync(seen, text, query, cancellationToken);
    }

    /// <summary>Puts another roster in place of a course's: the students of a class of a OneRoster 1.2 archive.</summary>
    /// <param name="seen">The course as last seen.</param>
    /// <param name="oneRoster">The ZIP archive: users.csv, enrollments.csv, and what else the system writes. It is read to its end.</param>
    /// <param name="query">
    /// Whether students with unknowns may fall out, which class, and which column identifies them. Missing: null, they may not, and the
    /// refusal says who would; the only one; "sourcedId".
    /// </param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<RosterTaken> PutRosterAsync(
        Versioned<CourseItem> seen, Stream oneRoster, RosterQuery? query = null, CancellationToken cancellationToken = default)
    {
        var archive = new StreamContent(oneRoster);
        archive.Headers.ContentType = new MediaTypeHeaderValue(MediaTypeNames.Application.Zip);
        return PutRosterAsync(seen, archive, query, cancellationToken);
    }

    /// <summary>The students who have longer.</summary>
    /// <param name="id">The course.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<IReadOnlyList<Extension>> GetExtensionsAsync(string id, CancellationToken cancellationToken = default) =>
        (await _wire.GetAsync<ExtensionsBody>(Of(id) + "/extensions", cancellationToken)).Extensions;

    /// <summary>Gives students of a course longer, in place of whoever had before.</summary>
    /// <param name="seen">The course as last seen.</param>
    /// <param name="extensions">The students, each once.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<IReadOnlyList<Extension>> PutExtensionsAsync(
        Versioned<CourseItem> seen, IReadOnlyList<Extension> extensions, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(seen);
        var request = Wire.Request(HttpMethod.Put, Of(seen.Value.Id) + "/extensions", new ExtensionsBody { Extensions = extensions });
        return (await _wire.SendAsync<ExtensionsBody>(request.Meant(seen.Tag), cancellationToken)).Extensions;
    }

    /// <summary>
    /// Gives students of a course keys of their own, and writes into its roster whose each is. The keys are in this answer and
    /// nowhere else; one replaced is revoked, unless its holder belongs to another course with it.
    /// </summary>
    /// <param name="seen">The course as last seen.</param>
    /// <param name="request">Whom. Missing: everybody of the roster without an actor.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<IReadOnlyList<StudentKey>> GiveKeysAsync(
        Versioned<CourseItem> seen, StudentKeysRequest? request = null, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(seen);
        var post = Wire.Request(HttpMethod.Post, Of(seen.Value.Id) + "/keys", request ?? new StudentKeysRequest());
        return (await _wire.SendAsync<StudentKeysMade>(post.Meant(seen.Tag), cancellationToken)).Keys;
    }

    /// <summary>What can be told apart on the shelf, with the derivatives and tests of the course.</summary>
    /// <param name="id">The course.</param>
    /// <param name="leastPosterior">Least probability that makes a compound identifiable. Missing: 0.8.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ShelfCheck> CheckShelfAsync(
        string id, double? leastPosterior = null, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<ShelfCheck>(
            Address.Of(Of(id) + "/shelf-check", new ShelfQuery { LeastPosterior = leastPosterior }), cancellationToken);

    /// <summary>Hands out unknowns to the students. The answer is as secret as theirs.</summary>
    /// <param name="id">The course.</param>
    /// <param name="request">How.</param>
    /// <param name="idempotencyKey">Marks the request, so that sending it again makes no other. Missing: one of its own.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<HandOutItem> HandOutAsync(
        string id, HandOutRequest request, string? idempotencyKey = null, CancellationToken cancellationToken = default) =>
        _wire.SendAsync<HandOutItem>(
            Wire.Request(HttpMethod.Post, Of(id) + "/hand-outs", request).WithIdempotencyKey(idempotencyKey), cancellationToken);

    /// <summary>A hand-out of unknowns, with its seed.</summary>
    /// <param name="id">The course.</param>
    /// <param name="number">First, second ... hand-out of the course, from 1.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<HandOutItem> GetHandOutAsync(string id, int number, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<HandOutItem>(FormattableString.Invariant($"{Of(id)}/hand-outs/{number}"), cancellationToken);

    /// <summary>The unknowns handed out, by student.</summary>
    /// <param name="id">The course.</param>
    /// <param name="withIdentities">Whether to tell what is inside.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<AssignmentItem> ListAssignmentsAsync(
        string id, bool withIdentities = false, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<AssignmentItem>(
            Address.Of(Of(id) + "/assignments", new AssignmentQuery { Identities = withIdentities ? true : null }), cancellationToken);

    /// <summary>What to fill into the vials. As secret as the answers.</summary>
    /// <param name="id">The course.</param>
    /// <param name="query">How much one vial holds. Missing: no amounts are told.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<FillingList> GetFillingListAsync(string id, FillingQuery? query = null, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<FillingList>(Address.Of(Of(id) + "/filling-list", query ?? new FillingQuery()), cancellationToken);

    /// <summary>The same as a CSV file, a row for each vial.</summary>
    /// <param name="id">The course.</param>
    /// <param name="query">How much one vial holds. Missing: no amounts are told.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>The bytes, to be read to their end and disposed of.</returns>
    public async Task<Stream> ExportFillingListAsync(string id, FillingQuery? query = null, CancellationToken cancellationToken = default)
    {
        var request = Wire.Request(HttpMethod.Get, Address.Of(Of(id) + "/filling-list", query ?? new FillingQuery()));
        request.Headers.Accept.ParseAdd(MediaTypeNames.Text.Csv);
        var answer = await _wire.SendAsync(request, cancellationToken);
        return await answer.Content.ReadAsStreamAsync(cancellationToken);
    }

    /// <summary>A sheet of labels for the vials, to print. It says nothing of what is inside.</summary>
    /// <param name="id">The course.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>HTML.</returns>
    public Task<string> GetLabelsAsync(string id, CancellationToken cancellationToken = default) =>
        _wire.GetTextAsync(Of(id) + "/labels", cancellationToken);

    /// <summary>The class as a whole.</summary>
    /// <param name="id">The course.</param>
    /// <param name="grading">The grading its items are taken from. Missing: the one published, or none.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<OverviewItem> GetOverviewAsync(
        string id, string? grading = null, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<OverviewItem>(Address.Of(Of(id) + "/overview", new OverviewQuery { Grading = grading }), cancellationToken);

    private Task<RosterTaken> PutRosterAsync(Versioned<CourseItem> seen, HttpContent file, RosterQuery? query, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(seen);
        return _wire.SendAsync<RosterTaken>(Wire.Request(HttpMethod.Put, RosterOf(seen, query), file).Meant(seen.Tag), cancellationToken);
    }

    private static string RosterOf(Versioned<CourseItem> seen, RosterQuery? query) =>
        Address.Of(Of(seen.Value.Id) + "/roster", query ?? new RosterQuery());

    internal static string Of(string id) => "courses/" + Address.Segment(id);
}
