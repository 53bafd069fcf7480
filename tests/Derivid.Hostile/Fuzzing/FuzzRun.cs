using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Api.Http;

namespace Derivid.Hostile.Fuzzing;

/// <summary>Sends attacks to a site and judges every answer.</summary>
/// <param name="site">The site.</param>
internal sealed class FuzzRun(Site site) : IDisposable
{
    /// <summary>The longest an answer may take, from the first byte sent to the last one read.</summary>
    public static readonly TimeSpan LongestAnswer = TimeSpan.FromSeconds(2);

    private const int AtOnce = 4;
    private const int MostFaultsTold = 20;

    private static readonly HashSet<string> KnownTypes = [.. ProblemTypes.All.Select(type => type.Urn)];

    private readonly HttpClient _client = new(new SocketsHttpHandler
    {
        AllowAutoRedirect = false,
        UseCookies = false,
        RequestHeaderEncodingSelector = (_, _) => Encoding.UTF8,
        PooledConnectionLifetime = TimeSpan.FromMinutes(1),
    });

    private readonly ConcurrentDictionary<(string Operation, int Status), int> _counts = [];
    private readonly ConcurrentQueue<string> _faults = [];
    private readonly ConcurrentQueue<(Attack Attack, Prey Prey)> _again = [];
    private readonly ConcurrentQueue<double> _milliseconds = [];
    private int _slow;
    private int _askedToWait;

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    /// <summary>How many requests were answered.</summary>
    public int Answered => _counts.Values.Sum();

    /// <summary>How many were answered 400 to 499.</summary>
    public int Refused => _counts.Where(count => count.Key.Status is >= 400 and < 500).Sum(count => count.Value);

    /// <summary>Sends some, several at once.</summary>
    /// <param name="attacks">The requests.</param>
    /// <param name="prey">What they are aimed at.</param>
    public async Task SendAsync(IEnumerable<Attack> attacks, Prey prey)
    {
        await Parallel.ForEachAsync(
            attacks,
            new ParallelOptions { MaxDegreeOfParallelism = AtOnce, CancellationToken = Patience },
            async (attack, _) => await SendAsync(attack, prey));
        await SendAgainAsync();
    }

    /// <summary>Asserts that nothing was wrong with any answer.</summary>
    public void AssertFaultless() => Assert.True(
        _faults.IsEmpty,
        $"{_faults.Count} of {Answered} answers are wrong. Mend the service and add the request to Corpus/requests.jsonl.\n{string.Join('\n', _faults.OrderByDescending(fault => fault, StringComparer.Ordinal).DistinctBy(fault => fault[..30]).Take(MostFaultsTold))}");

    /// <summary>The counts, as lines of a table.</summary>
    public string Table()
    {
        var byStatus = _counts.GroupBy(count => count.Key.Status).OrderBy(group => group.Key)
            .Select(group => string.Create(CultureInfo.InvariantCulture, $"{group.Key}: {group.Sum(count => count.Value)}"));
        var waits = _milliseconds.Order().ToList();
        return string.Create(
            CultureInfo.InvariantCulture,
            $"""
            {Answered} requests to {_counts.Keys.Select(key => key.Operation).Distinct().Count()} operations; by status {string.Join(", ", byStatus)}
            wrong answers {_faults.Count}; sent again alone: {_slow} that took over {LongestAnswer.TotalSeconds} s and {_askedToWait} told to wait, while others were answered
            median {waits[waits.Count / 2]:0.0} ms, 99 in 100 within {waits[waits.Count * 99 / 100]:0} ms, longest {waits[^1]:0} ms
            """);
    }

    /// <inheritdoc/>
    public void Dispose() => _client.Dispose();

    private async Task SendAsync(Attack attack, Prey prey)
    {
        if (await AnsweredAsync(attack, prey) is not { } answer)
        {
            return;
        }

        _milliseconds.Enqueue(answer.Took.TotalMilliseconds);
        if (answer.AsksToWait || answer.Took > LongestAnswer)
        {
            _again.Enqueue((attack, prey));
            Interlocked.Add(ref _askedToWait, answer.AsksToWait ? 1 : 0);
            Interlocked.Add(ref _slow, answer.Took > LongestAnswer ? 1 : 0);
        }
    }

    // Alone, and less the time that the machine kept both processes waiting: what hangs hangs again, what is away is away.
    private async Task SendAgainAsync()
    {
        while (_again.TryDequeue(out var sent))
        {
            var waiting = site.Service.WatchWaiting();
            var answer = await AnsweredAsync(sent.Attack, sent.Prey);
            var waited = waiting.SoFar;
            if (answer?.AsksToWait == true)
            {
                Tell(sent.Attack, "503 although nothing else was asked");
            }
            else if (answer?.Took - waited > LongestAnswer)
            {
                Tell(sent.Attack, string.Create(CultureInfo.InvariantCulture, $"took {answer!.Took.TotalSeconds:0.0} s alone, {waited.TotalSeconds:0.0} s of it waiting for a processor"));
            }
        }
    }

    // Missing: null, there is none.
    private async Task<Answer?> AnsweredAsync(Attack attack, Prey prey)
    {
        try
        {
            var tag = attack.TagOf is null ? "" : await TagAsync(attack, prey);
            using var request = attack.Message(site.Service.Client.BaseAddress!, prey, tag, KeyOf(attack.By));
            var clock = Stopwatch.StartNew();
            using var response = await _client.SendAsync(request, HttpCompletionOption.ResponseContentRead, Patience);
            var took = clock.Elapsed;
            _counts.AddOrUpdate((attack.Operation, (int)response.StatusCode), 1, (_, count) => count + 1);
            if (await FaultOfAsync(response, attack) is { } fault)
            {
                Tell(attack, $"{(int)response.StatusCode} {fault}");
            }

            return new Answer(took, response.StatusCode == HttpStatusCode.ServiceUnavailable);
        }
        catch (Exception fault) when (fault is HttpRequestException or IOException || (fault is OperationCanceledException && !Patience.IsCancellationRequested))
        {
            Tell(attack, "was not answered: " + fault.Message);
            return null;
        }
    }

    private async Task<string> TagAsync(Attack attack, Prey prey)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, Attack.AddressIn(site.Service.Client.BaseAddress!, prey.Named(attack.TagOf!)));
        request.Headers.TryAddWithoutValidation("Authorization", "Bearer " + site.Keys[Who.Administrator]);
        using var response = await _client.SendAsync(request, Patience);
        return response.Headers.ETag?.ToString() ?? "\"1\"";
    }

    private string? KeyOf(string who) => who switch
    {
        Who.Nobody => null,
        Who.Forger => "dvd_1111111111111111_" + new string('1', 64),
        _ => site.Keys[who],
    };

    // Missing: null, the answer is as it should be.
    private static async Task<string?> FaultOfAsync(HttpResponseMessage response, Attack attack)
    {
        var status = (int)response.StatusCode;
        if (status >= 500 && !IsAskedToWait(response))
        {
            return "is our fault: " + await response.Content.ReadAsStringAsync(Patience);
        }

        if (status < 400)
        {
            return null;
        }

        var text = await response.Content.ReadAsStringAsync(Patience);
        return (attack.Method == "HEAD" && text.Length == 0) || IsPage(response) ? null
            : response.Content.Headers.ContentType?.MediaType != "application/problem+json" ? "is no problem document: " + text
            : Traces.InText().IsMatch(text) ? "shows the inside: " + text
            : FaultOfProblem(status, text);
    }

    // A service on SQLite has one writer at a time, and tells others to come back after 2 s; it must say when.
    private static bool IsAskedToWait(HttpResponseMessage response) =>
        response is { StatusCode: HttpStatusCode.ServiceUnavailable, Headers.RetryAfter: not null };

    // A reader with a browser gets a page, but for the interface's own addresses.
    private static bool IsPage(HttpResponseMessage response) =>
        response.Content.Headers.ContentType?.MediaType == "text/html"
        && !response.RequestMessage!.RequestUri!.AbsolutePath.StartsWith("/api/v1/", StringComparison.OrdinalIgnoreCase);

    private static string? FaultOfProblem(int status, string text)
    {
        try
        {
            var problem = JsonNode.Parse(text)!.AsObject();
            return !KnownTypes.Contains((string?)problem["type"] ?? "") ? "has an unknown type: " + text
                : (int?)problem["status"] != status ? "says another status: " + text
                : string.IsNullOrWhiteSpace((string?)problem["detail"]) ? "has no detail: " + text
                : null;
        }
        catch (Exception fault) when (fault is JsonException or InvalidOperationException)
        {
            return "is no JSON object: " + text;
        }
    }

    private void Tell(Attack attack, string fault) => _faults.Enqueue($"{fault[..Math.Min(fault.Length, 600)]}\n    {attack.Line()}");

    private sealed record Answer(TimeSpan Took, bool AsksToWait);
}
