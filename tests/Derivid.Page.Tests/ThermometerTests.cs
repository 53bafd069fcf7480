using Derivid.Core.Teaching;

namespace Derivid.Page.Tests;

/// <summary>A thermometer from its registration to an answer that rests on it. Readings are made up.</summary>
public sealed class ThermometerTests(BrowserFixture browser, ShownPage shown) : IClassFixture<ShownPage>
{
    [Fact]
    public async Task ThermometerIsRegisteredCheckedAndNamedAtTheBench()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.ComeSignedInAsync(shown.KeyOf(Role.Grader));
        await reader.OpenAsync("/thermometers");
        await reader.FillAsync("What is written on it", "Oil bath (invented)");
        await reader.ChooseAsync("Filled with", "petroleum (most red and blue threads)");
        await reader.PressAsync("Register it");
        Assert.Equal("Oil bath (invented)", await reader.HeadingAsync());
        Assert.Contains("never checked", await reader.TextAsync(), StringComparison.Ordinal);

        await reader.ChooseAsync("Standard 1", "acetanilide, 114.5 °C");
        await reader.Page.GetByLabel("Read, °C").First.FillAsync("111,5");
        await reader.PressAsync("Keep these readings");
        Assert.Contains("acetanilide 111.5", await reader.TextAsync(), StringComparison.Ordinal);
        Assert.Equal(1, await reader.Page.Locator("svg.curve circle").CountAsync());

        await reader.FollowAsync("Identify with it");
        await reader.FillAsync("Melting range", "233-235");
        await reader.PressAsync("What is it?");
        Assert.Contains("corrected to 236–238 °C", await reader.TextAsync(), StringComparison.Ordinal);
    }
}
