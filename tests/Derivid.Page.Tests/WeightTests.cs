using System.Diagnostics;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>What the first view weighs, and how long an answer takes to be seen.</summary>
public sealed class WeightTests(BrowserFixture browser, ShownPage shown) : IClassFixture<ShownPage>
{
    private const int LargestBytes = 60 * 1024;
    private const int MostRequests = 10;
    private const double LongestMilliseconds = 150;

    [Fact]
    public async Task FirstViewIsLight()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        var finished = new List<IRequest>();
        reader.Page.RequestFinished += (_, request) => finished.Add(request);
        await reader.OpenAsync("/");
        await reader.Page.WaitForLoadStateAsync(LoadState.NetworkIdle);

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

    [Fact]
    public async Task AnswerIsSeenSoon()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        var taken = new List<double>();
        for (var round = 0; round < 21; round++)
        {
            await reader.OpenAsync("/");
            await reader.FillAsync("Melting range", $"{120 + round}-{122 + round}");
            var clock = Stopwatch.StartNew();
            await reader.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "What is it?" }).ClickAsync();
            await reader.Page.Locator("#headline").WaitForAsync();
            taken.Add(clock.Elapsed.TotalMilliseconds);
        }

        var median = taken.Order().ElementAt(taken.Count / 2);
        TestContext.Current.SendDiagnosticMessage($"Answer seen after {median:0} ms in the median, {taken.Min():0} to {taken.Max():0}.");
        Assert.InRange(median, 0, LongestMilliseconds);
    }
}
