using System.Globalization;
using System.Net.Http.Headers;
using System.Text.RegularExpressions;
using Derivid.Testing;

namespace Derivid.Api.Tests.Operating;

/// <summary>One series as Prometheus reads it.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Labels">Its labels.</param>
/// <param name="Value">Its value.</param>
internal sealed record Series(string Name, IReadOnlyDictionary<string, string> Labels, double Value);

/// <summary>What a running service tells at the port of its metrics.</summary>
/// <param name="Text">As sent.</param>
/// <param name="Series">As read.</param>
internal sealed partial record Scrape(string Text, IReadOnlyList<Series> Series)
{
    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    /// <summary>Where a service tells its metrics, by its log.</summary>
    public static async Task<Uri> AddressOfAsync(ServiceProcess service)
    {
        while (true)
        {
            if (Told().Match(service.Output) is { Success: true } told)
            {
                return new Uri(told.Groups[1].Value);
            }

            await Task.Delay(20, Patience);
        }
    }

    /// <summary>Asks once, as Prometheus does.</summary>
    public static async Task<Scrape> OfAsync(ServiceProcess service)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, await AddressOfAsync(service));
        request.Headers.Accept.Add(MediaTypeWithQualityHeaderValue.Parse("application/openmetrics-text;version=1.0.0"));
        using var response = await service.Client.SendAsync(request, Patience);
        Assert.True(response.IsSuccessStatusCode, response.ToString());
        return Read(await response.Content.ReadAsStringAsync(Patience));
    }

    /// <summary>Asks until something is told.</summary>
    /// <param name="service">Who is asked.</param>
    /// <param name="isTold">Whether it is.</param>
    public static async Task<Scrape> UntilAsync(ServiceProcess service, Func<Scrape, bool> isTold)
    {
        using var soon = CancellationTokenSource.CreateLinkedTokenSource(Patience);
        soon.CancelAfter(TimeSpan.FromSeconds(60));
        var scrape = await OfAsync(service);
        while (!isTold(scrape))
        {
            Assert.False(soon.IsCancellationRequested, $"Never told; the last was:\n{scrape.Text}\nand the log:\n{service.Output}");
            await Task.Delay(200, Patience);
            scrape = await OfAsync(service);
        }

        return scrape;
    }

    /// <summary>Reads lines of the text format; what it can't read throws.</summary>
    public static Scrape Read(string text) => new(text, [.. text.Split('\n').Where(line => line.Length > 0 && line[0] != '#').Select(SeriesOf)]);

    /// <summary>The value of the one series that has a name and some labels.</summary>
    /// <returns>Missing: null, there is none.</returns>
    public double? Value(string name, params (string Label, string Value)[] labels) => Series.SingleOrDefault(series => series.Name == name
        && labels.All(label => series.Labels.GetValueOrDefault(label.Label) == label.Value))?.Value;

    /// <summary>The sum over all series that have a name and some labels.</summary>
    public double Sum(string name, params (string Label, string Value)[] labels) => Series.Where(series => series.Name == name
        && labels.All(label => series.Labels.GetValueOrDefault(label.Label) == label.Value)).Sum(series => series.Value);

    private static Series SeriesOf(string line)
    {
        var match = Line().Match(line);
        Assert.True(match.Success, line);
        return new Series(
            match.Groups["name"].Value,
            match.Groups["label"].Captures.Zip(match.Groups["text"].Captures).ToDictionary(label => label.First.Value, label => label.Second.Value),
            double.Parse(match.Groups["value"].Value.Replace("+Inf", "Infinity", StringComparison.Ordinal), NumberStyles.Float, CultureInfo.InvariantCulture));
    }

    [GeneratedRegex("""^(?<name>[a-zA-Z_:][\w:]*)(\{((?<label>\w+)="(?<text>(\\.|[^"\\])*)",?)*\})? (?<value>\S+)( \S+)?( #.*)?$""")]
    private static partial Regex Line();

    [GeneratedRegex(@"Metrics are told at (\S+)\.")]
    private static partial Regex Told();
}
