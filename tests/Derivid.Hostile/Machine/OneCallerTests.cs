using System.Diagnostics;
using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;
using Derivid.Contracts;
using Derivid.Core.Teaching;

namespace Derivid.Hostile.Machine;

/// <summary>One caller who asks for all that the limits allow, beside a class that hands in at the last moment.</summary>
/// <remarks>With the limits the service is shipped with. Before, each of these took the processors, the memory or both from everybody.</remarks>
public sealed class OneCallerTests
{
    private const int Students = 12;
    private const string Sheets = "decision sheets of forty compounds, without a key";

    private static readonly TimeSpan HandedInBefore = TimeSpan.FromSeconds(2);

    private static readonly string Everything = $$"""
        {
          "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": "125-127", "colour": "yellow" }, { "kind": "semicarbazone", "meltingRange": "187-190" }],
          "spotTests": [{ "test": "Tollens", "outcome": "negative" }, { "test": "iodoform", "outcome": "positive" }],
          "boilingPoint": { "range": "55-57" }, "maximumCandidates": 500
        }
        """;

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    /// <summary>What the caller asks for over and over, on how many connections, whether with a key and at a trickle, and the engine.</summary>
    public static TheoryData<string, string, int, bool, bool, string> Demands => new()
    {
        { "the document, without a key", "GET /swagger/v1/swagger.json", 100, false, false, "SQLite" },
        { "all candidates, read at a trickle", "POST /api/v1/identifications?store=false", 100, true, true, "SQLite" },
        { "drafts", "POST /api/v1/courses/COURSE/reports", 100, true, false, "PostgreSQL" },
        { "exports", "GET /api/v1/table-versions/1/export.zip", 300, true, false, "PostgreSQL" },
        { Sheets, "POST /api/v1/decision-sheets", 100, false, false, "SQLite" },
    };

    /// <summary>The others, of the recorded part.</summary>
    public static TheoryData<string, string, int, bool, bool, string> OtherDemands => new()
    {
        { "exports", "GET /api/v1/table-versions/1/export.zip", 300, true, false, "SQLite" },
        { "all candidates", "POST /api/v1/identifications?store=false", 100, true, false, "SQLite" },
        { "exports, read at a trickle", "GET /api/v1/table-versions/1/export.json", 300, true, true, "SQLite" },
        { "a stored answer at a trickle, without a key", "GET /api/v1/identifications/STORED", 100, false, true, "SQLite" },
    };

    [Theory(Explicit = true)]
    [MemberData(nameof(OtherDemands))]
    public Task SoIsItBesideTheOthers(string demand, string request, int connections, bool hasKey, bool isSlow, string engine) =>
        ClassIsAnsweredAndHandsInBesideOneCaller(demand, request, connections, hasKey, isSlow, engine);

    [Theory]
    [MemberData(nameof(Demands))]
    public async Task ClassIsAnsweredAndHandsInBesideOneCaller(string demand, string request, int connections, bool hasKey, bool isSlow, string engine)
    {
        await using var site = engine == "SQLite" ? await Site.OnSqliteAsync(hasLimits: true) : await Site.OnPostgreSqlAsync(hasLimits: true);
        string[] students = [.. Enumerable.Range(1, Students).Select(number => $"student{number}")];
        foreach (var student in students)
        {
            await site.GiveKeyAsync(student, Role.Student);
        }

        var room = await Class.MakeAsync(site, [.. students, Who.Ann]);
        var stored = await site.As(Who.Stranger).Identifications.IdentifyAsync(Encoding.UTF8.GetBytes(Everything), store: true, Patience);
        var (address, body) = (request.Replace("COURSE", room.Id, StringComparison.Ordinal).Replace("STORED", stored.Id, StringComparison.Ordinal), demand switch
        {
            "drafts" => $$"""{ "assignment": "{{room.Codes[Who.Ann]}}", "observation": {}, "isDraft": true }""",
            Sheets => JsonSerializer.Serialize(new
            {
                ShelfList = await site.As(Who.Stranger).Table.ListParentsAsync(cancellationToken: Patience).Take(40).Select(parent => parent.Key).ToListAsync(Patience),
            }, JsonSerializerOptions.Web),
            _ => Everything,
        });
        using var over = CancellationTokenSource.CreateLinkedTokenSource(Patience);
        using var caller = Caller(site, hasKey, isSlow);
        var closes = DateTimeOffset.UtcNow.AddSeconds(7);
        await room.CloseAtAsync(site, closes);
        var asking = Enumerable.Range(0, connections).Select(_ => AskAsync(caller, address, body, isSlow, over.Token)).ToList();

        var waits = new List<double>();
        while (DateTimeOffset.UtcNow < closes - HandedInBefore)
        {
            var watch = Stopwatch.StartNew();
            await site.As(Who.Stranger).Identifications.IdentifyAsync(new IdentificationRequest { MeltingPoint = "48" }, store: false, Patience);
            waits.Add(watch.Elapsed.TotalMilliseconds);
            await Task.Delay(20, Patience);
        }

        var reports = await Task.WhenAll(students.Select(student => room.HandInAsync(site, student, isDraft: false)));
        var took = DateTimeOffset.UtcNow - (closes - HandedInBefore);
        await over.CancelAsync();
        var answered = (await Task.WhenAll(asking)).Sum();

        waits.Sort();
        TestContext.Current.SendDiagnosticMessage(
            $"{demand}, {engine}: {answered} answered; another's single identification {waits[waits.Count / 2]:0} ms in the median, {waits[(int)(0.95 * waits.Count)]:0} ms at p95 of {waits.Count}; {reports.Length} hand-ins within {took.TotalSeconds:0.0} s; {site.Service.PeakMegabytes:0} MB at most.");
        Assert.All(reports, report => Assert.True(report.HandedInAt < closes));
        Assert.True(waits.Count > 5, $"{waits.Count} identifications in five seconds.");
        await site.AssertUnharmedAsync();
    }

    // Who reads slowly has a system that reads no further ahead.
    private static HttpClient Caller(Site site, bool hasKey, bool isSlow)
    {
        var sockets = new SocketsHttpHandler { MaxConnectionsPerServer = 1000 };
        if (isSlow)
        {
            sockets.ConnectCallback = async (context, token) =>
            {
                var socket = new Socket(SocketType.Stream, ProtocolType.Tcp) { ReceiveBufferSize = 2048 };
                await socket.ConnectAsync(context.DnsEndPoint, token);
                return new NetworkStream(socket, ownsSocket: true);
            };
        }

        var client = new HttpClient(sockets) { BaseAddress = site.Service.Client.BaseAddress };
        if (hasKey)
        {
            client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", site.Keys[Who.Ann]);
        }

        return client;
    }

    // How many were answered in full.
    private static async Task<int> AskAsync(HttpClient caller, string request, string sent, bool isSlow, CancellationToken over)
    {
        var answered = 0;
        var parts = request.Split(' ');
        while (!over.IsCancellationRequested)
        {
            try
            {
                using var message = new HttpRequestMessage(new HttpMethod(parts[0]), parts[1]);
                message.Content = parts[0] == "POST" ? new StringContent(sent, Encoding.UTF8, "application/json") : null;
                using var response = await caller.SendAsync(message, HttpCompletionOption.ResponseHeadersRead, over);
                await using var body = await response.Content.ReadAsStreamAsync(over);
                var buffer = new byte[isSlow ? 500 : 65_536];
                while (await body.ReadAsync(buffer, over) > 0)
                {
                    if (isSlow)
                    {
                        await Task.Delay(500, over);
                    }
                }

                answered++;
            }
            catch (Exception fault) when (fault is OperationCanceledException or HttpRequestException or IOException)
            {
                // Called off at the end, or let go by the service: it asks again.
            }
        }

        return answered;
    }
}
