using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Text.Json;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Api.Teaching;
using Derivid.Contracts;
using Derivid.Core.Ranking;
using Derivid.Store.Identifications;

namespace Derivid.Api.Identifications;

/// <summary>Identifying many unknowns in one request.</summary>
public static class IdentificationBatchEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapIdentificationBatches(this RouteGroupBuilder api) =>
        api.MapPost("/identification-batches", IdentifyAsync)
            .RequireRateLimiting(RateLimits.Batches)
            .NotInExaminations()
            .WithTags("Identifications")
            .WithName("identifyBatch")
            .WithSummary("Identify many unknowns")
            .WithDescription(
                "1 to 1000 observations, each answered by itself with an identification or a problem, in order. All "
                + "identifications are stored together or none is. Place names in an item's problem count from the whole "
                + "body. At most 4 MB, and 20000 candidates over all items. A batch counts as one request, and batches have "
                + "a rate limit of their own.")
            .WithQuery<StoreQuery>()
            .WithBody<BatchRequest>()
            .Produces<BatchResponse>();

    private static async Task<IResult> IdentifyAsync(
        HttpContext context, TableSnapshots tables, IdentificationArchive archive, TimeProvider time)
    {
        if (!RequestQuery.Read<StoreQuery>(context.Request).Succeeded(out var query, out var problem)
            || !(await JsonBody.ReadAsync(context.Request, RequestLimits.BatchBytes)).Succeeded(out var json, out problem))
        {
            return problem;
        }

        using (json)
        {
            if (!ReadItems(json.RootElement).Succeeded(out var items, out problem)
                || !(await tables.FindAsync(null, context.RequestAborted)).Succeeded(out var current, out problem))
            {
                return problem;
            }

            var results = new List<BatchResult>(items.Count);
            var answers = new List<IdentificationReply>(items.Count);
            foreach (var item in items)
            {
                results.Add(await ResultAsync(item, current, tables, answers, context.RequestAborted));
            }

            var stores = query.Store != false;
            if (stores && answers.Count > 0)
            {
                var now = time.GetUtcNow();
                await archive.AddAsync([.. answers.Select(a => a.ToStored(now))], context.RequestAborted);
            }

            return Results.Json(
                new BatchResponse(answers.Count, items.Count - answers.Count, stores, results),
                WireJson.Context.BatchResponse);
        }
    }

    private static Outcome<List<Item>> ReadItems(JsonElement body)
    {
        var errors = new FieldErrors();
        Shape.Check(body, typeof(BatchEnvelope), "", errors);
        if (errors.ToProblem() is { } problem)
        {
            return problem;
        }

        var items = body.GetProperty("items").EnumerateArray().Select(Read).ToList();
        var candidates = items.Sum(
            i => (long?)i.Request?.Observation.MaximumCandidates ?? IdentificationEngine.DefaultCandidates);
        if (candidates > BatchRequest.MostCandidates)
        {
            errors.Add("/items", string.Create(
                CultureInfo.InvariantCulture,
                $"Asks for {candidates} candidates over all items; at most {BatchRequest.MostCandidates} are allowed. Lower maximumCandidates or split the batch."));
        }

        return errors.ToProblem() is { } tooMany ? tooMany : items;
    }

    private static Item Read(JsonElement json, int index)
    {
        var place = JsonPointer.Item("/items", index);
        return JsonBody.As<BatchItem>(json, place).Succeeded(out var item, out var problem)
            ? new Item(place, item, item.Reference, null)
            : new Item(place, null, ReferenceOf(json), problem);
    }

    // A refused item keeps its label where the label itself can be read.
    private static string? ReferenceOf(JsonElement json)
    {
        var errors = new FieldErrors();
        if (json.ValueKind == JsonValueKind.Object && json.TryGetProperty("reference", out var reference))
        {
            Shape.Check(reference, typeof(string), "", errors);
            return errors.Count == 0 ? reference.GetString() : null;
        }

        return null;
    }

    private static async Task<BatchResult> ResultAsync(
        Item item, ServedTable current, TableSnapshots tables, List<IdentificationReply> answers, CancellationToken cancellationToken)
    {
        cancellationToken.ThrowIfCancellationRequested();
        var problem = item.Problem;
        if (item.Request is { Observation: var request }
            && (await tables.FindAsync(request.TableVersion ?? current.Table.Version, cancellationToken))
                .Succeeded(out var table, out problem)
            && IdentificationReply.Of(request, table, item.Place + "/observation").Succeeded(out var answer, out problem))
        {
            answers.Add(answer);
            return new BatchResult(item.Reference, answer.Response, null);
        }

        return new BatchResult(item.Reference, null, problem!.ToBody());
    }

    private sealed record BatchEnvelope
    {
        [MinLength(1)]
        [MaxLength(BatchRequest.MostItems)]
        public required IReadOnlyList<JsonElement> Items { get; init; }
    }

    private sealed record Item(string Place, BatchItem? Request, string? Reference, Problem? Problem);
}
