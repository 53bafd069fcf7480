using System.Globalization;
using Derivid.Api.Access;
using Derivid.Api.Http;
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
            .WithIdempotencyKey()
            .WithPath("id", "Names the proposal.")
            .WithMetadata(new RequestSizeLimitAttribute(RequestLimits.ImportBytes + 1))
            .WithTags("Curation")
            .WithName("startImport")
            .WithSummary("Load a file into a proposal")
            .WithDescription(
                "CSV with the columns of the seed tables, or a JSON array of records, as exports write them; without ?table several lists "
                + "at once, as exports of whole versions are: a ZIP archive with a CSV file a list, or a JSON object with an array a list. "
                + $"At most {ImportQuery.LargestMegabytes} MB and 100,000 rows. "
                + "First as a dry run, then with dryRun=false: all rows are taken or none. Tolerated in CSV: a byte order mark, "
                + "semicolons or tabs between cells, columns in another order, decimal commas, dashes of any length, \"dec.\", "
                + "spaces at either end, a range written once, as printed, and columns left out that may be empty or follow from "
                + "the rest: of a compound key, formula, molar mass and carbonyl function, of a melting range key, figures, carbonyl groups, "
                + "decomposition and verification. Of a record that is listed, a column left out stays as it is. The answer names the import to follow.")
            .WithQuery<ImportQuery>()
            .Accepts<object>(MediaTypes.Csv, MediaTypes.Json, MediaTypes.Zip)
            .Produces<ImportItem>(StatusCodes.Status202Accepted)
            .ProducesProblems(
                ProblemTypes.NotFound, ProblemTypes.WrongStep, ProblemTypes.TooLarge, ProblemTypes.UnsupportedMediaType,
                ProblemTypes.TooManyRequests, ProblemTypes.StorageUnavailable, ProblemTypes.Busy);
        var import = api.MapGroup("/imports/{id}").RequireRole(Role.Instructor).WithTags("Curation")
            .WithPath("id", "Names the import.")
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.StorageUnavailable);
        import.MapGet("", GetAsync)
            .WithName("getImport")
            .WithSummary("See how far an import has come")
            .WithDescription("An import whose process ended is told interrupted after a few seconds; nothing of it was taken.")
            .Produces<ImportItem>();
        import.MapGet("/faults", FaultsAsync)
            .WithName("listImportFaults")
            .WithSummary("List what is wrong with a file")
            .WithDescription(FormattableString.Invariant($"Every fault of every row of every list: list, line, column, value and what is allowed, by list, then line; with more than {Store.Curation.Imports.MostFaults:N0} the reading stops."))
            .WithQuery<PageQuery>()
            .Produces<RowPage<ImportFaultItem>>();
        import.MapDelete("", CancelAsync)
            .WithName("cancelImport")
            .WithSummary("Call an import off")
            .WithDescription("It ends within a few seconds, and nothing of it is taken. One that has ended stays as it is.")
            .Produces<ImportItem>(StatusCodes.Status202Accepted);
    }

    private static async Task<IResult> StartAsync(
        string id, HttpContext context, Proposals proposals, ImportJobs jobs, RunningImports queue, ResourceIds ids,
        TimeProvider time)
    {
        if (!RequestQuery.Read<ImportQuery>(context.Request).Succeeded(out var query, out var problem)
            || !WriteRequest.Read(context).Succeeded(out var write, out problem)
            || !KindOf(query).Succeeded(out var kind, out problem))
        {
            return problem;
        }

        if (!queue.HasRoom)
        {
            return new Problem(ProblemTypes.TooManyRequests, "Other imports are waiting already. Send this one again when they are done.")
            {
                RetryAfter = TimeSpan.FromSeconds(10),
            };
        }

        if (!(await SentLists.ReadAsync(context.Request, kind.Only)).Succeeded(out var sent, out problem))
        {
            return problem;
        }

        var isQueued = false;
        try
        {
            var whole = new WriteRequest<SentLists>(sent, write.Origin, write.Revision, null);
            if (!(await IdempotencyHeader.ReadAsync(context.Request, whole, sent.Whole.FromStart())).Succeeded(out whole, out problem))
            {
                return problem;
            }

            // What was taken is answered again, whatever the proposal has become since.
            if (await jobs.MadeByAsync(whole.Key, context.RequestAborted) is { } before)
            {
                return Started(context, before);
            }

            var proposal = await proposals.FindAsync(id, context.RequestAborted);
            if (RefusalOf(proposal, id, write) is { } refused)
            {
                return refused(context);
            }

            var job = JobOf(ids.New(), proposal!, write, kind, query, time.GetUtcNow().UtcDateTime);
            var created = await jobs.AddAsync(write.Origin, whole.Key, job, context.RequestAborted);
            if (created.IsNew)
            {
                isQueued = true;
                await queue.AddAsync(job, sent, write.Origin);
            }

            return Started(context, created.Value);
        }
        finally
        {
            if (!isQueued)
            {
                sent.Dispose();
            }
        }
    }

    private static IResult Started(HttpContext context, ImportJob job)
    {
        context.Response.StatusCode = StatusCodes.Status202Accepted;
        context.Response.Headers.Location = "/api/v1/imports/" + job.Id;
        return Answer(context, job);
    }

    private static async Task<IResult> GetAsync(string id, HttpContext context, ImportJobs jobs) =>
        await jobs.FindAsync(id, context.RequestAborted) is { } job ? Answer(context, job)
        : Missing(id);

    private static async Task<IResult> FaultsAsync(string id, HttpContext context, ImportJobs jobs) =>
        await jobs.FindAsync(id, context.RequestAborted) is not { } job
            ? Missing(id)
            : await Pager.ListAsync<PageQuery, ImportFault, ImportFaultItem>(
                context,
                (_, beyond, most) => jobs.FaultsAsync(id, Number(beyond) ?? 0, most, context.RequestAborted),
                fault => fault.Number.ToString(CultureInfo.InvariantCulture),
                text => Number(text) is not null,
                fault => ImportFaultItem.Of(fault, job));

    private static async Task<IResult> CancelAsync(string id, HttpContext context, ImportJobs jobs)
    {
        if (!WriteRequest.Read(context).Succeeded(out var write, out var problem))
        {
            return problem;
        }

        await jobs.RequestCancelAsync(write.Origin, id, context.RequestAborted);
        if (await jobs.FindAsync(id, context.RequestAborted) is not { } job)
        {
            return Missing(id);
        }

        context.Response.StatusCode = StatusCodes.Status202Accepted;
        return Answer(context, job);
    }

    private static Outcome<NamedLists> KindOf(ImportQuery query) =>
        query.Table is not { } name ? new NamedLists(null)
        : TableLayout.Standard.Find(name) is { } kind ? new NamedLists(kind)
        : FieldErrors.One("?table", $"{Text.Quoted(name)} is no list of the table. Allowed: {TableNames.Allowed}; or leave it out for several lists at once.");

    private static Func<HttpContext, IResult>? RefusalOf(Proposal? proposal, string id, WriteRequest write)
    {
        var fault = Proposals.FaultOfChange(proposal, write.Revision);
        return fault == ProposalFault.None
            ? null
            : context => ProposalReply.Of(context, id, new ProposalWrite(fault, proposal));
    }

    private static ImportJob JobOf(string id, Proposal proposal, WriteRequest write, NamedLists lists, ImportQuery query, DateTime now)
    {
        return new ImportJob
        {
            Id = id,
            ProposalId = proposal.Id,
            Revision = write.Revision,
            TableName = lists.Only?.TableName ?? "",
            IsWhole = query.Whole == true,
            IsDryRun = query.DryRun != false,
            State = ImportState.Queued,
            StartedBy = write.Origin.Actor,
            CreatedAtUtc = now,
            SeenAtUtc = now,
        };
    }

    private static IResult Answer(HttpContext context, ImportJob job)
    {
        context.Response.Headers.CacheControl = "no-store";
        return Reply.Json(ImportItem.Of(job));
    }

    private static int? Number(string? text) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;

    // The one list named. Missing: null, several.
    private sealed record NamedLists(RecordKind? Only);

    private static Problem Missing(string id) => new(ProblemTypes.NotFound, $"There is no import {Text.Quoted(id)}.");
}
