using System.Globalization;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Derivid.Core.Teaching;
using Derivid.Store.Curation;
using Derivid.Store.Databases;
using Microsoft.AspNetCore.Mvc;

namespace Derivid.Api.Curation.Imports;

/// <summary>Loading whole files into a proposal.</summary>
public static class ImportEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapImports(this RouteGroupBuilder api)
    {
        api.MapPost("/proposals/{id}/imports", StartAsync)
            .RequireRole(Role.Instructor)
            .TakesRevision()
            .WithPath("id", "Names the proposal.")
            .WithMetadata(new RequestSizeLimitAttribute(RequestLimits.ImportBytes + 1))
            .WithTags("Curation")
            .WithName("startImport")
            .WithSummary("Load a file into a proposal")
            .WithDescription(
                "CSV with the columns of the seed tables, or a JSON array of records, as exports write them; at most 64 MB. "
                + "First as a dry run, then with dryRun=false: all rows are taken or none. Tolerated in CSV: a byte order mark, "
                + "semicolons or tabs between cells, columns in another order, decimal commas, dashes of any length, \"dec.\", "
                + "spaces at either end, and a range written once, as printed. The answer names the import to follow.")
            .WithQuery<ImportQuery>()
            .Accepts<object>("text/csv", "application/json")
            .Produces<ImportItem>(StatusCodes.Status202Accepted)
            .ProducesProblems(
                ProblemTypes.NotFound, ProblemTypes.WrongStep, ProblemTypes.TooLarge, ProblemTypes.UnsupportedMediaType,
                ProblemTypes.TooManyRequests, ProblemTypes.StorageUnavailable);
        var import = api.MapGroup("/imports/{id}").RequireRole(Role.Instructor).WithTags("Curation")
            .WithPath("id", "Names the import.")
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.StorageUnavailable);
        import.MapGet("", GetAsync)
            .WithName("getImport")
            .WithSummary("See how far an import has come")
            .WithDescription("An import whose process ended is told interrupted after a few seconds; nothing of it was taken.")
            .WithQuery<NoQuery>()
            .Produces<ImportItem>();
        import.MapGet("/faults", FaultsAsync)
            .WithName("listImportFaults")
            .WithSummary("List what is wrong with a file")
            .WithDescription("Every fault of every row: line, column, value and what is allowed, in the order of the file; at most 100000.")
            .WithQuery<RowQuery>()
            .Produces<RowPage<ImportFaultItem>>();
        import.MapDelete("", CancelAsync)
            .WithName("cancelImport")
            .WithSummary("Call an import off")
            .WithDescription("It ends within a few seconds, and nothing of it is taken. One that has ended stays as it is.")
            .WithQuery<NoQuery>()
            .Produces<ImportItem>(StatusCodes.Status202Accepted);
    }

    private static async Task<IResult> StartAsync(
        string id, HttpContext context, Proposals proposals, ImportJobs jobs, RunningImports queue, ResourceIds ids,
        TimeProvider time)
    {
        if (!RequestQuery.Read<ImportQuery>(context.Request).Succeeded(out var query, out var problem)
            || !ProposalHeaders.ReadHeaders(context).Succeeded(out var headers, out problem)
            || !KindOf(query).Succeeded(out var kind, out problem))
        {
            return problem;
        }

        var proposal = await proposals.FindAsync(id, context.RequestAborted);
        if (RefusalOf(proposal, id, headers) is { } refused)
        {
            return refused(context);
        }

        if (!queue.HasRoom)
        {
            return new Problem(ProblemTypes.TooManyRequests, "Other imports are waiting already. Send this one again when they are done.")
            {
                RetryAfter = TimeSpan.FromSeconds(10),
            };
        }

        if (!(await ImportBody.ReadAsync(context.Request)).Succeeded(out var file, out problem))
        {
            return problem;
        }

        var job = JobOf(ids.New(), proposal!, headers, kind, query, time.GetUtcNow().UtcDateTime);
        await jobs.AddAsync(headers.Origin, job, context.RequestAborted);
        await queue.AddAsync(job, file, headers.Origin);
        context.Response.StatusCode = StatusCodes.Status202Accepted;
        context.Response.Headers.Location = "/api/v1/imports/" + job.Id;
        return Answer(context, job);
    }

    private static async Task<IResult> GetAsync(string id, HttpContext context, ImportJobs jobs) =>
        !RequestQuery.Read<NoQuery>(context.Request).Succeeded(out _, out var problem) ? problem
        : await jobs.FindAsync(id, context.RequestAborted) is { } job ? Answer(context, job)
        : Missing(id);

    private static async Task<IResult> FaultsAsync(string id, HttpContext context, ImportJobs jobs) =>
        await jobs.FindAsync(id, context.RequestAborted) is null
            ? Missing(id)
            : await RowReply.ListAsync<RowQuery, ImportFault, ImportFaultItem>(
                context,
                (_, beyond, most) => jobs.FaultsAsync(id, Number(beyond) ?? 0, most, context.RequestAborted),
                fault => fault.Number.ToString(CultureInfo.InvariantCulture),
                text => Number(text) is not null,
                ImportFaultItem.Of);

    private static async Task<IResult> CancelAsync(string id, HttpContext context, ImportJobs jobs)
    {
        if (!RequestQuery.Read<NoQuery>(context.Request).Succeeded(out _, out var problem)
            || !Caller.OriginOf(context).Succeeded(out var origin, out problem))
        {
            return problem;
        }

        await jobs.RequestCancelAsync(origin, id, context.RequestAborted);
        if (await jobs.FindAsync(id, context.RequestAborted) is not { } job)
        {
            return Missing(id);
        }

        context.Response.StatusCode = StatusCodes.Status202Accepted;
        return Answer(context, job);
    }

    private static Outcome<RecordKind> KindOf(ImportQuery query)
    {
        var errors = new FieldErrors();
        if (TableLayout.Standard.Find(query.Table ?? "") is { } kind)
        {
            return kind;
        }

        errors.Add("?table", $"{Text.Quoted(query.Table ?? "")} is no list of the table. Allowed: {TableNames.Allowed}.");
        return errors.ToProblem()!;
    }

    private static Func<HttpContext, IResult>? RefusalOf(Proposal? proposal, string id, ProposalHeaders headers)
    {
        var fault = proposal is null ? ProposalFault.NotFound
            : proposal.Revision != headers.Revision ? ProposalFault.Stale
            : proposal.State != ProposalState.Draft ? ProposalFault.WrongState
            : ProposalFault.None;
        return fault == ProposalFault.None
            ? null
            : context => ProposalReply.Of(context, id, new ProposalWrite(fault, proposal));
    }

    private static ImportJob JobOf(
        string id, Proposal proposal, ProposalHeaders headers, RecordKind kind, ImportQuery query, DateTime now) => new()
    {
        Id = id,
        ProposalId = proposal.Id,
        Revision = headers.Revision,
        TableName = kind.TableName,
        IsWhole = query.Whole == true,
        IsDryRun = query.DryRun != false,
        State = ImportState.Queued,
        StartedBy = headers.Origin.Actor,
        CreatedAtUtc = now,
        SeenAtUtc = now,
    };

    private static IResult Answer(HttpContext context, ImportJob job)
    {
        context.Response.Headers.CacheControl = "no-store";
        return TableReply.Json(ImportItem.Of(job));
    }

    private static int? Number(string? text) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;

    private static Problem Missing(string id) => new(ProblemTypes.NotFound, $"There is no import {Text.Quoted(id)}.");
}
