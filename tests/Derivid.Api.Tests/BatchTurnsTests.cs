using System.Net;
using Derivid.Api.Http;
using Derivid.Api.Identifications;
using Derivid.Core.Teaching;

namespace Derivid.Api.Tests;

public sealed class BatchTurnsTests(SqliteService service)
{
    private const string Address = Requests.Batches + "?store=false";
    private const string Batch = """{ "items": [{ "observation": { "meltingPoint": "48" } }] }""";

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task OneOfASenderIsWorkedOnAFewWaitAndTheRestIsRefusedForNow()
    {
        using var student = await service.Service.ClientAsAsync(Role.Student);
        using var other = await service.Service.ClientAsAsync(Role.Student);
        var release = new TaskCompletionSource();
        using var message = new HttpRequestMessage(HttpMethod.Post, Address);
        var first = await service.Service.Held.SendAsync(student, message, Batch, release.Task);

        var others = Enumerable.Range(0, BatchTurns.MostOfSender).Select(_ => student.PostAsync(Address, Batch)).ToList();
        using var refused = await await Task.WhenAny(others);
        await refused.ProblemAsync(ProblemTypes.Busy);
        Assert.InRange(refused.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 60);
        using var ofAnother = await other.PostAsync(Address, Batch);
        await ofAnother.JsonAsync(HttpStatusCode.OK);
        await student.IdentifiedAsync(Requests.Propanone);
        Assert.Equal(1, others.Count(task => task.IsCompleted));

        release.SetResult();
        using var answered = await first;
        await answered.JsonAsync(HttpStatusCode.OK);
        foreach (var response in await Task.WhenAll(others))
        {
            using (response)
            {
                Assert.True(response == refused || response.StatusCode == HttpStatusCode.OK, response.ToString());
            }
        }
    }

    [Fact]
    public async Task AllSendersTogetherHaveAsManyPlaces()
    {
        using var turns = new BatchTurns();
        var held = new List<System.Threading.RateLimiting.RateLimitLease>();
        for (var sender = 0; sender < BatchTurns.Most; sender++)
        {
            held.Add(await turns.EnterAsync($"sender {sender}", Patience));
        }

        using var refused = await turns.EnterAsync("one more", Patience);
        held[0].Dispose();
        using var later = await turns.EnterAsync("one more", Patience);

        Assert.All(held, place => Assert.True(place.IsAcquired));
        Assert.False(refused.IsAcquired);
        Assert.True(later.IsAcquired);
        held.ForEach(place => place.Dispose());
    }

    // Addresses are easily had by the dozen: those without a key have places of their own.
    [Fact]
    public async Task SendersWithoutAKeyTakeNoPlaceOfThoseWithOne()
    {
        using var turns = new BatchTurns();
        var held = new List<System.Threading.RateLimiting.RateLimitLease>();
        for (var sender = 0; sender < BatchTurns.MostWithoutKey; sender++)
        {
            held.Add(await turns.EnterAsync($"address:192.0.2.{sender}", Patience));
        }

        using var refused = await turns.EnterAsync("address:192.0.2.99", Patience);
        using var keyed = await turns.EnterAsync("key:0123456789abcdef", Patience);

        Assert.False(refused.IsAcquired);
        Assert.True(keyed.IsAcquired);
        held.ForEach(place => place.Dispose());
    }

    // Five senders who fill their own places and let their bodies trickle kept everybody else from batches.
    [Fact]
    public async Task WhatWaitsForASendersOwnTurnHoldsNoPlaceOfEverybodys()
    {
        using var turns = new BatchTurns();
        var entering = Enumerable.Range(0, BatchTurns.Most * BatchTurns.MostOfSender / 2)
            .Select(i => turns.EnterAsync($"sender {i / BatchTurns.MostOfSender}", Patience).AsTask()).ToList();

        using var other = await turns.EnterAsync("another", Patience);

        Assert.True(other.IsAcquired);
        Assert.Equal(BatchTurns.Most / 2, entering.Count(task => task.IsCompleted));
        while (entering.Find(task => task.IsCompleted) is { } done)
        {
            entering.Remove(done);
            (await done).Dispose();
        }
    }

    [Fact]
    public async Task WhoGivesUpWaitingLeavesThePlaceToOthers()
    {
        using var turns = new BatchTurns();
        var first = await turns.EnterAsync("sender", Patience);
        using var impatient = new CancellationTokenSource();
        var waiting = Enumerable.Range(0, BatchTurns.MostOfSender - 1).Select(_ => turns.EnterAsync("sender", impatient.Token).AsTask()).ToList();

        using var refused = await turns.EnterAsync("sender", Patience);
        await impatient.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => Task.WhenAll(waiting));
        var next = turns.EnterAsync("sender", Patience);
        first.Dispose();
        using var entered = await next;

        Assert.False(refused.IsAcquired);
        Assert.True(entered.IsAcquired);
    }
}
