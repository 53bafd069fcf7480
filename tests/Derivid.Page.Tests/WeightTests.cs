using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>What the first view weighs, and, run by name on an idle machine, how long an answer takes to be seen.</summary>
[Collection(nameof(ShownPage))]
public sealed class WeightTests(BrowserFixture browser, ShownPage shown)
{
    private const int LargestBytes = 60 * 1024;
    private const int MostRequests = 10;
    private const double LongestMilliseconds = 150;
    private const int FirstRounds = 30;
    private const int Rounds = 41;

    [Fact]
    public async Task FirstViewIsLight()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        var finished = new List<IRequest>();
        reader.Page.RequestFinished += (_, request) => finished.Add(request);
        await reader.OpenAsync("/");
        // Whatever scripts ask for once the view is there would be asked for by now.
        await reader.Page.WaitForTimeoutAsync(500);

        var bytes = 0;
        foreach (var request in finished)
        {
            var sizes = await request.SizesAsync();
            bytes += sizes.ResponseBodySize + sizes.ResponseHeadersSize;
        }

        TestContext.Current.SendDiagnosticMessage($"First view: {bytes} bytes in {finished.Count} requests.");
        Assert.InRange(finished.Count, 1, MostRequests);
        Assert.InRange(bytes, 1, LargestBytes);
    }

    // From the press of the button to the answer painted, by the browser's own clock. A service just started works slower until
    // its code is compiled for good, which its first answers are for.
    [Fact(Explicit = true)]
    public async Task AnswerIsSeenSoon()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        var taken = new List<double>();
        for (var round = 0; round < FirstRounds + Rounds; round++)
        {
            await reader.OpenAsync("/");
            await reader.FillAsync("Melting range", $"{120 + round}-{122 + round}");
            taken.Add(await reader.Page.EvaluateAsync<double>(
                """
                () => new Promise(done => {
                  const pressed = performance.now();
                  const look = () => document.querySelector('#headline')
                    ? requestAnimationFrame(() => setTimeout(() => done(performance.now() - pressed)))
                    : requestAnimationFrame(look);
                  document.querySelector('#observation button[type=submit]').click();
                  look();
                })
                """));
        }

        var median = Median(taken.Skip(FirstRounds));
        TestContext.Current.SendDiagnosticMessage(
            $"Answer seen after {median:0} ms in the median, {taken.Skip(FirstRounds).Min():0} to {taken.Skip(FirstRounds).Max():0}; the first {FirstRounds} of the service after {Median(taken.Take(FirstRounds)):0} ms.");
        Assert.InRange(median, 0, LongestMilliseconds);
    }

    private static double Median(IEnumerable<double> figures) => figures.Order().ToList() is var ordered ? ordered[ordered.Count / 2] : 0;
}
