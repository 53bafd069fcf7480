using System.Text.Json;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Teaching;
using Derivid.Store.Curation;

namespace Derivid.Api.Curation;

/// <summary>The changes of a proposal, record by record, and what they come to.</summary>
public static class ProposalRecordEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapProposalRecords(this RouteGroupBuilder api)
    {
        var proposal = api.MapGroup("/proposals/{id}").RequireRole(Role.Instructor).WithTags("Curation")
            .WithPath("id", "Names the proposal.")
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.StorageUnavailable);
        proposal.MapGet("/differences", DifferencesAsync)
            .TakesTurns()
            .WithName("listProposedChanges")
            .WithSummary("List what a proposal changes")
            .WithDescription("Against the version it starts from: added, changed (before and after) and removed, by list, then key.")
            .WithQuery<ChangeQuery>()
            .Produces<RowPage<ChangeItem>>();
        proposal.MapGet("/validation", ValidationAsync)
            .TakesTurns()
            .WithName("validateProposal")
            .WithSummary("Hold a proposal against the rules")
            .WithDescription(
                "Errors and warnings about the table it makes, each with record, field, value and what is allowed. Two sources "
                + FormattableString.Invariant($"more than {TableAgreement.ClashesAboveCelsius} °C apart, a value outside the usual span of its kind or one structure under two names are ")
                + "warnings: discordant literature is information.")
            .Produces<ValidationItem>();
        proposal.MapPut("/records/{table}/{key}", PutAsync)
            .TakesRevision()
            .WithPath("table", "The list of the table, such as \"derivatives\".")
            .WithPath("key", "What names the record: its key, or its key's parts joined by \":\", as differences show it.")
            .WithName("proposeRecord")
            .WithSummary("Say what is to become of one record")
            .WithDescription(
                "The whole record, or its removal. Replaces what the proposal said of it before. Of a draft only. The record's "
                + "form is checked now, its meaning by the validation.")
            .WithBody<RecordChangeRequest>()
            .Produces<ProposalItem>()
            .ProducesProblems(ProblemTypes.WrongStep);
        proposal.MapDelete("/records/{table}/{key}", TakeBackAsync)
            .TakesRevision()
            .WithPath("table", "The list of the table, such as \"derivatives\".")
            .WithPath("key", "What names the record: its key, or its key's parts joined by \":\", as differences show it.")
            .WithName("takeBackRecord")
            .WithSummary("Take back what a proposal says of one record")
            .WithDescription("The record stays as the version has it. Of a draft only.")
            .Produces<ProposalItem>()
            .ProducesProblems(ProblemTypes.WrongStep);
    }

    private static async Task<IResult> DifferencesAsync(
        string id, HttpContext context, Proposals proposals, ProposedTables proposed)
    {
        if (await proposals.FindAsync(id, context.RequestAborted) is not { } proposal)
        {
            return ProposalReply.Missing(id);
        }

        return (await proposed.OfAsync(proposal, context.RequestAborted)).Succeeded(out var table, out var problem)
            ? await ChangeReply.ListAsync(context, table.Changes)
            : problem;
    }

    private static async Task<IResult> ValidationAsync(string id, HttpContext context, Proposals proposals, ProposalChecks checks)
    {
        if (await proposals.FindAsync(id, context.RequestAborted) is not { } proposal)
        {
            return ProposalReply.Missing(id);
        }

        if (!(await checks.OfAsync(proposal, context.RequestAborted)).Succeeded(out var found, out var problem))
        {
            return problem;
        }

        Revisions.Tag(context, proposal.Revision);
        return Reply.Json(new ValidationItem(
            found.Errors, found.Warnings, found.NewWarnings, [.. found.Findings.Select(each => FindingItem.Of(each.Finding, each.IsNew))]));
    }

    private static async Task<IResult> PutAsync(string id, string table, string key, HttpContext context, Proposals proposals)
    {
        if (!(await WriteRequest.ReadAsync<RecordChangeRequest>(context)).Succeeded(out var write, out var problem)
            || !TableNames.Find(table).Succeeded(out var kind, out problem)
            || (problem = FaultOf(kind, key)) is not null
            || !ReadRecord(write.Body, kind, key).Succeeded(out var proposed, out problem))
        {
            return problem;
        }

        return ProposalReply.Of(context, id, await proposals.PutAsync(
            write.Origin, id, write.Revision, kind, key, proposed.Record, context.RequestAborted));
    }

    private static async Task<IResult> TakeBackAsync(string id, string table, string key, HttpContext context, Proposals proposals)
    {
        if (!WriteRequest.Read(context).Succeeded(out var write, out var problem)
            || !TableNames.Find(table).Succeeded(out var kind, out problem)
            || (problem = FaultOf(kind, key)) is not null)
        {
            return problem;
        }

        return ProposalReply.Of(context, id, await proposals.TakeBackAsync(
            write.Origin, id, write.Revision, kind, key, context.RequestAborted));
    }

    // The audit log keeps the address, so that it has to be one of a record. Missing: null, it is.
    private static Problem? FaultOf(RecordKind kind, string key) => kind.WhyNoKey(key) is { } allowed
        ? FieldErrors.One("key", $"{Text.Quoted(key)} names no record; allowed: {allowed}.")
        : null;

    private static Outcome<ProposedChange> ReadRecord(RecordChangeRequest request, RecordKind kind, string key)
    {
        if ((request.Record is null) == (request.Remove != true))
        {
            return FieldErrors.One("", "Give either \"record\", the whole record, or \"remove\": true.");
        }

        if (request.Record is not { } json)
        {
            return new ProposedChange(null);
        }

        var errors = new FieldErrors();
        Shape.Check(json, kind.RecordType, "/record", errors);
        if (errors.ToProblem() is { } wrong)
        {
            return wrong;
        }

        var record = json.Deserialize(kind.RecordType, WireJson.WithDefaults)!;
        var own = kind.KeyOf(record);
        if (own != key)
        {
            errors.Add("/record", $"The record's own key is {Text.Quoted(own)}; the address says {Text.Quoted(key)}. Let them agree.");
        }

        return errors.ToProblem() is { } differs ? differs : new ProposedChange(record);
    }

    private sealed record ProposedChange(object? Record);
}
