using System.Text.Json;
using Derivid.Contracts;
using Derivid.Core.Curation;

namespace Derivid.Client;

/// <summary>
/// Changing the reference table: changes are gathered in a proposal, reviewed by a second person, and released as the next
/// version. Needs an instructor's key.
/// </summary>
/// <remarks>
/// Whoever writes to a proposal hands over the proposal as they last saw it; if somebody else has written since, the
/// problem is stale-revision (412).
/// </remarks>
public sealed class ProposalsClient
{
    private readonly Wire _wire;

    internal ProposalsClient(Wire wire) => _wire = wire;

    /// <summary>The proposals, newest first.</summary>
    /// <param name="state">Only those that have come this far. Missing: all.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<ProposalItem> ListAsync(
        ProposalState? state = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<ProposalItem>(Address.Of("proposals", new ProposalQuery { State = state }), cancellationToken);

    /// <summary>One proposal.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ProposalItem> GetAsync(string id, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<ProposalItem>(Of(id), cancellationToken);

    /// <summary>Makes a proposal.</summary>
    /// <param name="request">What it is about.</param>
    /// <param name="reason">Why, for the audit log. Missing: not said.</param>
    /// <param name="idempotencyKey">Marks the request, so that sending it again makes no other. Missing: one of its own.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ProposalItem> CreateAsync(
        ProposalRequest request, string? reason = null, string? idempotencyKey = null, CancellationToken cancellationToken = default) =>
        _wire.SendAsync<ProposalItem>(
            Wire.Request(HttpMethod.Post, "proposals", request, reason).WithIdempotencyKey(idempotencyKey), cancellationToken);

    /// <summary>What the table can learn from classes just now: what <see cref="ProposeLearnedAsync"/> would propose.</summary>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<LearningItem> GetLearningAsync(CancellationToken cancellationToken = default) =>
        _wire.GetAsync<LearningItem>("learning", cancellationToken);

    /// <summary>Proposes what the table can learn from classes.</summary>
    /// <param name="request">What to call it. Missing: it says so itself.</param>
    /// <param name="reason">Why, for the audit log. Missing: not said.</param>
    /// <param name="idempotencyKey">Marks the request, so that sending it again makes no other. Missing: one of its own.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ProposalItem> ProposeLearnedAsync(
        LearningRequest? request = null, string? reason = null, string? idempotencyKey = null, CancellationToken cancellationToken = default) =>
        _wire.SendAsync<ProposalItem>(
            Wire.Request(HttpMethod.Post, "learning", request ?? new LearningRequest(), reason).WithIdempotencyKey(idempotencyKey), cancellationToken);

    /// <summary>Changes title and reason of a draft.</summary>
    /// <param name="seen">The proposal as last seen.</param>
    /// <param name="title">What it is about, in a line.</param>
    /// <param name="reason">Why, with the sources. Missing: the title says it.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ProposalItem> DescribeAsync(
        ProposalItem seen, string title, string? reason = null, CancellationToken cancellationToken = default) =>
        WriteAsync(HttpMethod.Put, seen, "", new ProposalDescription { Title = title, Reason = reason }, null, cancellationToken);

    /// <summary>What a proposal changes, against the version it starts from.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="list">Only in this list, such as "derivatives". Missing: in all.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<ChangeItem> ListChangesAsync(
        string id, string? list = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<ChangeItem>(Address.Of(Of(id) + "/differences", new ChangeQuery { Table = list }), cancellationToken);

    /// <summary>What the rules say of the table a proposal makes.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ValidationItem> ValidateAsync(string id, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<ValidationItem>(Of(id) + "/validation", cancellationToken);

    /// <summary>Says what one record is to be.</summary>
    /// <param name="seen">The proposal as last seen.</param>
    /// <param name="list">The list, such as "derivatives".</param>
    /// <param name="key">What names the record there.</param>
    /// <param name="record">The whole record, as exports write it.</param>
    /// <param name="reason">Why, for the audit log. Missing: not said.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ProposalItem> PutRecordAsync(
        ProposalItem seen,
        string list,
        string key,
        JsonElement record,
        string? reason = null,
        CancellationToken cancellationToken = default) =>
        WriteAsync(HttpMethod.Put, seen, Record(list, key), new RecordChangeRequest { Record = record }, reason, cancellationToken);

    /// <summary>Says that one record is to be left out of the table.</summary>
    /// <param name="seen">The proposal as last seen.</param>
    /// <param name="list">The list, such as "derivatives".</param>
    /// <param name="key">What names the record there.</param>
    /// <param name="reason">Why, for the audit log. Missing: not said.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ProposalItem> RemoveRecordAsync(
        ProposalItem seen, string list, string key, string? reason = null, CancellationToken cancellationToken = default) =>
        WriteAsync(HttpMethod.Put, seen, Record(list, key), new RecordChangeRequest { Remove = true }, reason, cancellationToken);

    /// <summary>Takes back what a proposal says of one record.</summary>
    /// <param name="seen">The proposal as last seen.</param>
    /// <param name="list">The list, such as "derivatives".</param>
    /// <param name="key">What names the record there.</param>
    /// <param name="reason">Why, for the audit log. Missing: not said.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ProposalItem> TakeBackRecordAsync(
        ProposalItem seen, string list, string key, string? reason = null, CancellationToken cancellationToken = default) =>
        WriteAsync(HttpMethod.Delete, seen, Record(list, key), null, reason, cancellationToken);

    /// <summary>What the audit log has of a proposal, oldest first.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<AuditItem> ListAuditAsync(string id, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<AuditItem>(Of(id) + "/audit", cancellationToken);

    /// <summary>The remarks on a proposal and what was said with its steps, oldest first.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<CommentItem> ListCommentsAsync(string id, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<CommentItem>(Of(id) + "/comments", cancellationToken);

    /// <summary>Makes a remark on a proposal.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="text">The remark.</param>
    /// <param name="idempotencyKey">Marks the request, so that sending it again makes no other. Missing: one of its own.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<CommentItem> CommentAsync(
        string id, string text, string? idempotencyKey = null, CancellationToken cancellationToken = default) =>
        _wire.SendAsync<CommentItem>(
            Wire.Request(HttpMethod.Post, Of(id) + "/comments", new CommentRequest { Text = text }).WithIdempotencyKey(idempotencyKey),
            cancellationToken);

    /// <summary>Hands a draft in for review.</summary>
    /// <param name="seen">The proposal as last seen.</param>
    /// <param name="reason">Why, for the audit log. Missing: not said.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ProposalItem> SubmitAsync(
        ProposalItem seen, string? reason = null, CancellationToken cancellationToken = default) =>
        WriteAsync(HttpMethod.Post, seen, "/submission", null, reason, cancellationToken);

    /// <summary>Says that a proposal may be released.</summary>
    /// <param name="seen">The proposal as last seen.</param>
    /// <param name="note">What there is to say. Missing: nothing.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ProposalItem> ApproveAsync(
        ProposalItem seen, string? note = null, CancellationToken cancellationToken = default) =>
        WriteAsync(HttpMethod.Post, seen, "/review", new ReviewRequest { Verdict = ReviewVerdict.Approve, Note = note }, null, cancellationToken);

    /// <summary>Hands a proposal back to its authors.</summary>
    /// <param name="seen">The proposal as last seen.</param>
    /// <param name="note">Why. Missing: nothing to say.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ProposalItem> HandBackAsync(
        ProposalItem seen, string? note = null, CancellationToken cancellationToken = default) =>
        WriteAsync(HttpMethod.Post, seen, "/review", new ReviewRequest { Verdict = ReviewVerdict.HandBack, Note = note }, null, cancellationToken);

    /// <summary>Releases a reviewed proposal as the next version of the table.</summary>
    /// <param name="seen">The proposal as last seen.</param>
    /// <param name="note">What the version is to say of itself. Missing: the proposal's title.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ProposalItem> ReleaseAsync(
        ProposalItem seen, string? note = null, CancellationToken cancellationToken = default) =>
        WriteAsync(HttpMethod.Post, seen, "/release", new ReleaseRequest { Note = note }, null, cancellationToken);

    /// <summary>Sets a proposal on the current version; it is a draft again.</summary>
    /// <param name="seen">The proposal as last seen.</param>
    /// <param name="reason">Why, for the audit log. Missing: not said.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ProposalItem> RebaseAsync(
        ProposalItem seen, string? reason = null, CancellationToken cancellationToken = default) =>
        WriteAsync(HttpMethod.Post, seen, "/rebase", null, reason, cancellationToken);

    /// <summary>Gives a proposal up.</summary>
    /// <param name="seen">The proposal as last seen.</param>
    /// <param name="reason">Why, for the audit log. Missing: not said.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ProposalItem> WithdrawAsync(
        ProposalItem seen, string? reason = null, CancellationToken cancellationToken = default) =>
        WriteAsync(HttpMethod.Post, seen, "/withdrawal", null, reason, cancellationToken);

    private Task<ProposalItem> WriteAsync(
        HttpMethod method,
        ProposalItem seen,
        string part,
        object? body,
        string? reason,
        CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(seen);
        return _wire.SendAsync<ProposalItem>(
            Wire.Request(method, Of(seen.Id) + part, body, reason, seen.Revision), cancellationToken);
    }

    private static string Of(string id) => "proposals/" + Address.Segment(id);

    private static string Record(string list, string key) =>
        $"/records/{Address.Segment(list)}/{Address.Segment(key)}";
}
