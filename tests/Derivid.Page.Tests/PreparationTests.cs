using Derivid.Contracts;
using Derivid.Core;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>A preparation on the page: how one comes to it, what the sheet says, and how it prints.</summary>
[Collection(nameof(ShownPage))]
public sealed class PreparationTests(BrowserFixture browser, ShownPage shown)
{
    // Seven, but for how the browser rounds pixels.
    private const double SmallestPoints = 6.99;

    private static CancellationToken Gone => TestContext.Current.CancellationToken;

    // Every kind, of a compound and of an unknown, with a yield and for a class: one page of either paper, in letters that can be read.
    [Fact]
    public async Task ASheetIsPrintedOnOnePageInLettersThatCanBeRead()
    {
        using var client = shown.Service.Administrator();
        var kinds = await client.Table.ListDerivativeKindsAsync(cancellationToken: Gone).ToListAsync(Gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        var faults = new List<string>();
        var sheets = 0;
        foreach (var of in new[] { "parent=benzaldehyde", "parent=salicylaldehyde", "parent=long-invented", "lowest=72&highest=180" })
        {
            foreach (var kind in kinds.Select(kind => kind.Key))
            {
                var address = $"/prepare?kind={kind}&{of}&milligrams=123.4&productMilligrams=345.6&portions=24";
                await reader.OpenAsync(address);
                sheets += await reader.Page.Locator(".preparation").CountAsync();
                foreach (var paper in new[] { "A4", "Letter" })
                {
                    if (await reader.PagesAsync(paper) is not 1 and var pages)
                    {
                        faults.Add($"{address}: {pages} pages of {paper}");
                    }
                }

                faults.AddRange((await reader.FaultsInPrintAsync(SmallestPoints, ".cautions dd", ".amounts td", ".work li")).Select(fault => $"{address}: {fault}"));
            }
        }

        Assert.True(faults.Count == 0, string.Join('\n', faults));
        Assert.Equal(4 * kinds.Count, sheets);
    }

    [Fact]
    public async Task OneComesToItFromACompoundAndTheSheetSaysWhatTheServiceAnswers()
    {
        using var client = shown.Service.Administrator();
        var expected = await client.Practice.PrepareAsync(
            new PreparationRequest { Parent = "benzaldehyde", Kind = "semicarbazone", Milligrams = 212.5, ProductMilligrams = 290, Portions = 3 }, Gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/table/benzaldehyde");
        await reader.Page.GetByRole(AriaRole.Link, new() { Name = "Prepare the semicarbazone" }).ClickAsync();
        Assert.Equal("Benzaldehyde semicarbazone", await reader.Page.Locator("h1").InnerTextAsync());

        // With a decimal comma, as people type it.
        await reader.FillAsync("Compound for one derivative (mg)", "212,5");
        await reader.FillAsync("Dry product, for its yield (mg)", "290");
        await reader.FillAsync("How many tests and derivatives", "3");
        await reader.PressAsync("Work it out");
        var sheet = await reader.Page.Locator(".preparation").InnerTextAsync();
        foreach (var said in expected.Cautions.Select(caution => caution.Text)
            .Concat(expected.Advice.Select(advice => advice.Text))
            .Concat(expected.Recipes.Select(recipe => recipe.Method))
            .Concat(expected.Recipes.SelectMany(recipe => recipe.Parts).Select(part => part.InWords()))
            .Concat([expected.Deferral, expected.LimitingSentence, expected.Product.Balance, expected.Yield!.Sentence])
            .Concat(expected.Sources.Select(source => source.Citation)))
        {
            Assert.Contains(said, sheet, StringComparison.Ordinal);
        }

        Assert.Contains(Figure.Mass(expected.Reagent.Forms.Single().Milligrams!.Value), sheet, StringComparison.Ordinal);
        Assert.Contains("no source says how long", sheet, StringComparison.Ordinal);
    }

    [Fact]
    public async Task AnAnswerLeadsToThePreparationOfWhatItProposes()
    {
        using var client = shown.Service.Administrator();
        var answer = await client.Identifications.IdentifyAsync(
            new IdentificationRequest { State = Core.Observations.PhysicalState.Liquid, BoilingPoint = new BoilingPointObserved { Range = "155-156" } }, cancellationToken: Gone);
        var step = answer.NextSteps.First(step => step.Kind == Core.Ranking.NextStepKind.Derivative);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/identifications/" + answer.Id);
        await reader.Page.Locator(".steps th").GetByRole(AriaRole.Link, new() { Name = step.Name, Exact = true }).ClickAsync();

        Assert.Equal($"The unknown {step.Name}", await reader.Page.Locator("h1").InnerTextAsync());
        Assert.Contains("–", await reader.Page.Locator(".amounts tr:last-child td[data-label=Mass]").InnerTextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task AnUnsafeScaleIsRefusedAtItsFieldWithTheReason()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/prepare?kind=2-4-dinitrophenylhydrazone&parent=benzaldehyde&milligrams=2000");

        Assert.Equal(0, await reader.Page.Locator(".preparation").CountAsync());
        var fault = reader.Page.Locator(".faults a");
        Assert.Contains("20 to 500 mg is allowed", await fault.InnerTextAsync(), StringComparison.Ordinal);
        Assert.Contains("can explode", await fault.InnerTextAsync(), StringComparison.Ordinal);
        Assert.EndsWith("#milligrams", await fault.GetAttributeAsync("href"), StringComparison.Ordinal);
        Assert.Equal("2000", await reader.Page.Locator("#milligrams").InputValueAsync());
        Assert.Equal("true", await reader.Page.Locator("#milligrams").GetAttributeAsync("aria-invalid"));
    }
}
