using System.Text;
using System.Text.Json;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Operating;
using Derivid.Api.Practice;
using Derivid.Api.Table;
using Derivid.Api.Teaching;
using Derivid.Contracts;
using Derivid.Store.Identifications;

namespace Derivid.Api.Identifications;

/// <summary>Identifying one unknown, and what was identified before.</summary>
public static class IdentificationEndpoints
{
    private const string Tag = "Identifications";

    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapIdentifications(this RouteGroupBuilder api)
    {
        var identifications = api.MapGroup("/identifications").WithTags(Tag);
        identifications.MapPost("", IdentifyAsync)
            .WithName("identify")
            .WithSummary("Identify an unknown")
            .WithDescription(
                "Ranks the parents of the table against what was observed. Everything in the observation may be left out. "
                + "201 when the answer is stored, by this request or by an earlier one of anybody; 200 with store=false. At most 64 KB.")
            .WithQuery<StoreQuery>()
            .WithBody<IdentificationRequest>()
            .Produces<IdentificationReply>(StatusCodes.Status201Created)
            .Produces<IdentificationReply>()
            .ProducesProblems(
                ProblemTypes.ExaminationOpen,
                ProblemTypes.ContradictoryReadings,
                ProblemTypes.MeltingRangeReversed,
                ProblemTypes.ThermometerImplausible);
        MapStored<IdentificationReply>(
            identifications.MapGet("/{id}", GetAsync),
            "getIdentification",
            "Get a stored identification",
            "The answer as it was first sent, to the byte.");
        MapStored<IdentificationRequest>(
            identifications.MapGet("/{id}/observation", GetObservationAsync),
            "getIdentificationObservation",
            "Get the observation behind a stored identification",
            "The request in canonical form: keys for names, figures for texts, defaults written out. It can be sent again.");
        MapStored<IdentificationReply>(
                identifications.MapGet("/{id}/replay", ReplayAsync),
                "replayIdentification",
                "Work a stored identification out again",
                "Ranks the stored observation anew on the table version it was made on. The answer is equal to the "
                + "stored one to the byte; anything else is a problem.")
            .TakesTurns()
            .ProducesProblems(ProblemTypes.ModelVersionDiffers, ProblemTypes.ReplayDiffers);
    }

    private static RouteHandlerBuilder MapStored<T>(
        RouteHandlerBuilder endpoint, string name, string summary, string description) =>
        endpoint
            .NotInExaminations()
            .WithName(name)
            .WithSummary(summary)
            .WithDescription(description)
            .Produces<T>()
            .Produces(StatusCodes.Status304NotModified);

    private static async Task<IResult> IdentifyAsync(
        HttpContext context,
        TableSnapshots tables,
        IdentificationArchive archive,
        RegisteredThermometers thermometers,
        StoringAllowances allowances,
        SenderTurns turns,
        Examinations examinations,
        ServiceMeter meter,
        TimeProvider time)
    {
        if (!RequestQuery.Read<StoreQuery>(context.Request).Succeeded(out var query, out var problem)
            || !(await JsonBody.ReadAsync<IdentificationRequest>(context.Request)).Succeeded(out var request, out problem)
            || (problem = await examinations.OfAsync(context)) is not null
            || !(await tables.FindAsync(request.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem)
            || !(await thermometers.IntoAsync(request, table, "", context.RequestAborted)).Succeeded(out request, out problem))
        {
            return problem;
        }

        if (request.MaximumCandidates > SenderTurns.ManyCandidates)
        {
            await turns.HoldLargeAsync(context);
        }

        WrittenIdentification? answer;
        StoredIdentification? stored = null;
        using (await turns.TakeAsync(context))
        {
            if (!WrittenIdentification.Of(request, table, "").Succeeded(out answer, out problem))
            {
                meter.Identified(IdentificationWay.Alone, null, isStored: false);
                return problem;
            }

            stored = query.Store == false ? null : answer.ToStored(time.GetUtcNow());
        }

        meter.Identified(IdentificationWay.Alone, answer.Outcome, isStored: stored is not null);

        if (stored is null)
        {
            return Reply.Bytes(answer.Body, MediaTypes.Json);
        }

        if ((problem = allowances.Spend(RateLimits.SenderOf(context), StoringAllowances.CostOf(stored))) is not null)
        {
            return problem;
        }

        // Whether it was there before is not told: somebody else may have asked just that.
        await archive.AddAsync(stored, context.RequestAborted);
        context.Response.StatusCode = StatusCodes.Status201Created;
        context.Response.Headers.Location = $"/api/v1/identifications/{answer.Id}";
        return Reply.Bytes(answer.Body, MediaTypes.Json);
    }

    /// <param name="id">The id the identification was answered with.</param>
    /// <param name="context">The request.</param>
    /// <param name="archive">Where it is stored.</param>
    /// <param name="retention">How long.</param>
    /// <param name="turns">How many large answers are under way.</param>
    private static Task<IResult> GetAsync(string id, HttpContext context, IdentificationArchive archive, Retention retention, SenderTurns turns) =>
        FindAsync(id, context, archive, retention, turns, stored => Task.FromResult(Json(context, id, stored.Result())));

    /// <param name="id">The id the identification was answered with.</param>
    /// <param name="context">The request.</param>
    /// <param name="archive">Where it is stored.</param>
    /// <param name="retention">How long.</param>
    /// <param name="turns">How many large answers are under way.</param>
    private static Task<IResult> GetObservationAsync(string id, HttpContext context, IdentificationArchive archive, Retention retention, SenderTurns turns) =>
        FindAsync(id, context, archive, retention, turns, stored => Task.FromResult(
            Json(context, id + "-observation", Encoding.UTF8.GetBytes(stored.ObservationJson))));

    /// <param name="id">The id the identification was answered with.</param>
    /// <param name="context">The request.</param>
    /// <param name="archive">Where it is stored.</param>
    /// <param name="retention">How long.</param>
    /// <param name="turns">How many large answers are under way.</param>
    /// <param name="tables">The tables.</param>
    private static Task<IResult> ReplayAsync(
        string id, HttpContext context, IdentificationArchive archive, Retention retention, SenderTurns turns, TableSnapshots tables) =>
        FindAsync(id, context, archive, retention, turns, stored => RecomputeAsync(stored, context, tables));

    private static async Task<IResult> RecomputeAsync(
        StoredIdentification stored, HttpContext context, TableSnapshots tables)
    {
        if (!(await tables.FindAsync(stored.TableVersion, context.RequestAborted)).Succeeded(out var table, out var problem))
        {
            return problem;
        }

        if (stored.ModelVersion != table.ModelVersion)
        {
            return new Problem(
                ProblemTypes.ModelVersionDiffers,
                $"It was made by model {stored.ModelVersion}; this service runs model {table.ModelVersion}. "
                + "The stored answer stands and can still be read.");
        }

        var result = stored.Result();
        var request = JsonSerializer.Deserialize(stored.ObservationJson, WireJson.Context.IdentificationRequest)!;
        return WrittenIdentification.Of(request, table, "").Succeeded(out var answer, out _)
            && answer.Body.AsSpan().SequenceEqual(result)
            ? Json(context, stored.Id, result)
            : new Problem(ProblemTypes.ReplayDiffers, ProblemTypes.ReplayDiffers.Example)
            {
                TableVersion = stored.TableVersion,
            };
    }

    private static async Task<IResult> FindAsync(
        string id, HttpContext context, IdentificationArchive archive, Retention retention, SenderTurns turns, Func<StoredIdentification, Task<IResult>> answer)
    {
        var stored = IdentificationId.IsWellFormed(id) ? await archive.FindAsync(id, context.RequestAborted) : null;
        if (stored is not null && StoringAllowances.CostOf(stored) > 1)
        {
            await turns.HoldLargeAsync(context);
        }

        return stored is not null
            ? await answer(stored)
            : new Problem(
                ProblemTypes.NotFound,
                $"No identification {Text.Quoted(id)} is stored here. An id has {IdentificationId.Length} letters and digits. {retention.Sentence}");
    }

    private static IResult Json(HttpContext context, string tag, byte[] json) =>
        Reply.UnlessKnown(context, tag, () => Reply.Bytes(json, MediaTypes.Json));
}

/// <summary>Whether an identification is kept.</summary>
public sealed record StoreQuery
{
    /// <summary>Whether to store it, so that it can be fetched and replayed by its id. Missing: true.</summary>
    public bool? Store { get; init; }
}
