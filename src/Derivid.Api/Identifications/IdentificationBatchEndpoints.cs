using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Text.Json;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Operating;
using Derivid.Api.Practice;
using Derivid.Api.Table;
using Derivid.Api.Teaching;
using Derivid.Contracts;
using Derivid.Core.Ranking;
using Derivid.Store.Identifications;
using Microsoft.AspNetCore.Authentication;

namespace Derivid.Api.Identifications;

/// <summary>Identifying many unknowns in one request.</summary>
public static class IdentificationBatchEndpoints
{
    private static Problem Busy { get; } = new(
        ProblemTypes.Busy,
        $"{BatchTurns.MostOfSender} batches of yours, or {BatchTurns.Most} of everybody's ({BatchTurns.MostWithoutKey} sent without a key), are worked on or wait already; send this one again in a few seconds, and one after the other.")
    {
        RetryAfter = TimeSpan.FromSeconds(5),
    };

    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapIdentificationBatches(this RouteGroupBuilder api) =>
        api.MapPost("/identification-batches", IdentifyAsync)
            .WithTags("Identifications")
            .WithName("identifyBatch")
            .WithSummary("Identify many unknowns")
            .WithDescription(
                "1 to 1000 observations, each answered by itself with an identification or a problem, in order, as soon as it "
                + "is worked out. Batches sent with a key are stored unless store=false, in parts while they are answered, and "
                + "each result says whether it is; those sent without are not, and store=true without a key is refused. Place "
                + "names in an item's problem count from the whole body. At most 4 MB, 20000 candidates and 4 "
                + "different table versions over all items. A batch counts as one request, and its items have a rate limit of "
                + "their own; of one sender one batch is worked on at a time, and a few wait.")
            .WithQuery<BatchStoreQuery>()
            .WithBody<BatchRequest>()
            .Produces<BatchReply>()
            .ProducesProblems(ProblemTypes.ExaminationOpen, ProblemTypes.Busy);

    private static async Task<IResult> IdentifyAsync(
        HttpContext context,
        BatchTurns turns,
        SenderTurns senderTurns,
        BatchAllowances allowances,
        StoringAllowances storing,
        TableSnapshots tables,
        IdentificationArchive archive,
        RegisteredThermometers thermometers,
        Examinations examinations,
        ServiceMeter meter,
        TimeProvider time,
        ILogger<BatchReplyWriter> log)
    {
        if (!RequestQuery.Read<BatchStoreQuery>(context.Request).Succeeded(out var query, out var problem)
            || (problem = await UnstorableAsync(context, query)) is not null)
        {
            return problem;
        }

        var sender = RateLimits.SenderOf(context);
        using var place = await turns.EnterAsync(sender, context.RequestAborted);
        if (!place.IsAcquired)
        {
            return Busy;
        }

        if ((problem = allowances.Spend(sender, 0)) is not null
            || !(await ReadItemsAsync(context.Request)).Succeeded(out var items, out problem)
            || (problem = await examinations.OfAsync(context)) is not null
            || (problem = allowances.Spend(sender, items.Count)) is not null
            || !(await VersionsAsync(items, tables, context.RequestAborted)).Succeeded(out var versions, out problem))
        {
            return problem;
        }

        var now = (query.Store ?? Caller.Of(context) is not null) ? time.GetUtcNow() : (DateTimeOffset?)null;
        if (now is not null && (problem = storing.Spend(sender, items.Count)) is not null)
        {
            return problem;
        }

        items = await WithThermometersAsync(items, versions, thermometers, context.RequestAborted);
        await using var answer = new BatchReplyWriter(context.Response, now is null ? null : archive, log);
        foreach (var item in items)
        {
            BatchLine line;
            using (await senderTurns.TakeAsync(context))
            using (await turns.TakeAsync(context.RequestAborted))
            {
                // Behind whatever else waits for a thread.
                await Task.Yield();
                context.RequestAborted.ThrowIfCancellationRequested();
                line = LineOf(item, versions, now, meter);
            }

            await answer.AddAsync(line);
        }

        await answer.EndAsync();
        return Results.Empty;
    }

    // Somebody whose key can't be checked just now is not told that they have none.
    private static async Task<Problem?> UnstorableAsync(HttpContext context, BatchStoreQuery query)
    {
        if (query.Store == false || Caller.Of(context) is not null)
        {
            return null;
        }

        return AccessHandler.Uncertain(await context.AuthenticateAsync(AccessHandler.Name))
            ?? (query.Store == true
                ? new Problem(
                    ProblemTypes.KeyRequired,
                    "Batches are stored for those who send a key; send yours, or leave store=true out and keep the answer yourself.")
                : null);
    }

    private static async Task<Outcome<List<Item>>> ReadItemsAsync(HttpRequest request)
    {
        if (!(await JsonBody.ReadAsync(request, RequestLimits.BatchBytes)).Succeeded(out var json, out var problem))
        {
            return problem;
        }

        // What is read stays; the text it was read from is larger, and goes.
        using (json)
        {
            return ReadItems(json.RootElement);
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

        var versions = items.Select(i => i.Request?.Observation.TableVersion).OfType<int>().Distinct().Order().ToList();
        if (versions.Count > BatchRequest.MostTableVersions)
        {
            errors.Add("/items", string.Create(
                CultureInfo.InvariantCulture,
                $"Names {versions.Count} table versions over all items, from {versions[0]} to {versions[^1]}; at most {BatchRequest.MostTableVersions} different ones are allowed. Split the batch."));
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

    // Before anything is answered, and each once: laying out a version costs as much as dozens of items.
    private static async Task<Outcome<ItemVersions>> VersionsAsync(
        List<Item> items, TableSnapshots tables, CancellationToken cancellationToken)
    {
        if (!(await tables.FindAsync(null, cancellationToken)).Succeeded(out var current, out var problem))
        {
            return problem;
        }

        var named = new Dictionary<int, Outcome<ServedTable>>();
        foreach (var number in items.Select(i => i.Request?.Observation.TableVersion).OfType<int>().Distinct())
        {
            named[number] = await tables.FindAsync(number, cancellationToken);
        }

        return new ItemVersions(current, named);
    }

    // Each looked up once, however many items name it.
    private static async Task<List<Item>> WithThermometersAsync(
        List<Item> items, ItemVersions versions, RegisteredThermometers thermometers, CancellationToken cancellationToken)
    {
        var known = new Dictionary<string, CheckedThermometer?>(StringComparer.Ordinal);
        foreach (var id in items.Select(IdOf).OfType<string>().Distinct())
        {
            known[id] = await thermometers.FindAsync(id, cancellationToken);
        }

        // Of a version that isn't there the item is refused by itself.
        return known.Count == 0 ? items : items.ConvertAll(item =>
            IdOf(item) is not { } id || !versions.Find(item.Request!.Observation.TableVersion).Succeeded(out var table, out _) ? item
            : thermometers.Into(item.Request.Observation, table, item.Place + "/observation", known[id]).Succeeded(out var observation, out var problem)
                ? item with { Request = item.Request with { Observation = observation } }
                : item with { Request = null, Problem = problem });

        static string? IdOf(Item item) => item.Request?.Observation.Thermometer?.Id;
    }

    private static BatchLine LineOf(Item item, ItemVersions versions, DateTimeOffset? storedAt, ServiceMeter meter)
    {
        var problem = item.Problem;
        var written = item.Request is { Observation: var request }
            && versions.Find(request.TableVersion).Succeeded(out var table, out problem)
            && WrittenIdentification.Of(request, table, item.Place + "/observation").Succeeded(out var reply, out problem) ? reply : null;
        meter.Identified(IdentificationWay.InBatch, written?.Outcome, isStored: written is not null && storedAt is not null);
        return written is not null
            ? new BatchLine(item.Reference, written.Body, storedAt is { } now ? written.ToStored(now) : null, null)
            : new BatchLine(item.Reference, null, null, problem);
    }

    private sealed record BatchEnvelope
    {
        [MinLength(1)]
        [MaxLength(BatchRequest.MostItems)]
        public required IReadOnlyList<JsonElement> Items { get; init; }
    }

    private sealed record Item(string Place, BatchItem? Request, string? Reference, Problem? Problem);

    private sealed record ItemVersions(ServedTable Current, IReadOnlyDictionary<int, Outcome<ServedTable>> Named)
    {
        public Outcome<ServedTable> Find(int? number) => number is { } named ? Named[named] : Current;
    }
}

/// <summary>Whether the identifications of a batch are kept.</summary>
public sealed record BatchStoreQuery
{
    /// <summary>
    /// Whether to store them, so that each can be fetched and replayed by its id. Missing: true for those who send a key,
    /// false for others.
    /// </summary>
    public bool? Store { get; init; }
}
