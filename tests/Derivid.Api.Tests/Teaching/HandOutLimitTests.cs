using System.Diagnostics;
using System.Diagnostics.Metrics;
using System.Globalization;
using System.Net;
using System.Text.Json;
using Derivid.Api.Http;

namespace Derivid.Api.Tests.Teaching;

/// <summary>A hand-out for which no way is found in time: the largest class, each student in sight of a hundred at random.</summary>
[Collection(nameof(Alone))]
public sealed class HandOutLimitTests(SqliteService service)
{
    private const string HandOut = """{ "unknownsPerStudent": 4, "leastPosterior": 0, "handsOutUnidentifiable": true }""";
    private const int Students = 2000;
    private const int Compounds = 30;

    private static readonly string[] Kinds = ["2,4-DNPH"];

    // Work ends after 10 s; the rest is the request's own.
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(15);

    private static readonly TimeSpan Soon = TimeSpan.FromSeconds(6);

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task WhatIsNotFoundInTimeIsRefusedByName()
    {
        await using var room = await CrowdedAsync();
        var clock = Stopwatch.StartNew();
        using var response = await room.Instructor.PostAsync(room.Address + "/hand-outs", HandOut);
        var elapsed = clock.Elapsed;

        var detail = (string)(await response.ProblemAsync(ProblemTypes.HandOutImpossible))["detail"]!;
        Assert.Matches("s\\d{4}", detail);
        Assert.InRange(elapsed, TimeSpan.Zero, Longest);
    }

    [Fact]
    public async Task NothingRunsOnOnceTheClientHasLeft()
    {
        await using var room = await CrowdedAsync();
        var active = 0L;
        using var requests = new MeterListener();
        requests.InstrumentPublished = (instrument, listener) =>
        {
            if (instrument.Name == "http.server.active_requests")
            {
                listener.EnableMeasurementEvents(instrument);
            }
        };
        requests.SetMeasurementEventCallback<long>((_, change, _, _) => Interlocked.Add(ref active, change));
        requests.Start();
        using var impatient = CancellationTokenSource.CreateLinkedTokenSource(Patience);
        impatient.CancelAfter(TimeSpan.FromSeconds(1));

        await Assert.ThrowsAnyAsync<OperationCanceledException>(
            () => room.Instructor.PostAsync(room.Address + "/hand-outs", Requests.Json(HandOut), impatient.Token));

        // Unless it is called off, the work goes on for nine seconds more.
        var clock = Stopwatch.StartNew();
        while (Interlocked.Read(ref active) > 0 && clock.Elapsed < Soon)
        {
            await Task.Delay(20, Patience);
        }

        Assert.Equal(0, Interlocked.Read(ref active));
    }

    private async Task<Classroom> CrowdedAsync()
    {
        var parents = await service.Client.JsonAtAsync($"/api/v1/parents?limit={Compounds}");
        var shelf = parents.GetProperty("items").EnumerateArray().Select(parent => parent.GetProperty("key").GetString()).ToList();
        var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync(JsonSerializer.Serialize(new { name = "Crowded", shelfList = shelf, derivativeKinds = Kinds }));

        // Numbers of no regularity, the same each time (a linear congruential generator; the constants are Numerical Recipes').
        var state = 1u;
        int Next() => (int)((state = (state * 1664525) + 1013904223) >> 8) % Students;
        string Name(int student) => student.ToString("'s'0000", CultureInfo.InvariantCulture);
        var students = Enumerable.Range(0, Students).Select(student => new
        {
            student = Name(student),
            neighbours = Enumerable.Range(0, 50).Select(_ => Next()).Where(other => other != student).Distinct().Select(Name).ToList(),
        }).ToList();
        using var put = await room.PutAsync(room.Instructor, room.Address + "/roster", JsonSerializer.Serialize(new { students }));
        await put.JsonAsync(HttpStatusCode.OK);
        return room;
    }
}
