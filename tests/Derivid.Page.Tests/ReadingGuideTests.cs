using Derivid.Contracts;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>A reading guide on the page: how one comes to it, what it says, and how it prints.</summary>
[Collection(nameof(ShownPage))]
public sealed class ReadingGuideTests(BrowserFixture browser, ShownPage shown)
{
    // Seven, but for how the browser rounds pixels.
    private const double SmallestPoints = 6.99;

    private static CancellationToken Gone => TestContext.Current.CancellationToken;

    // With all that can be said of one at once: one page of either paper, in letters that can be read.
    [Fact]
    public async Task AGuideIsPrintedOnOnePageInLettersThatCanBeRead()
    {
        using var client = shown.Service.Administrator();
        var answer = await client.Identifications.IdentifyAsync(Impure, cancellationToken: Gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        var faults = new List<string>();
        foreach (var address in new[]
        {
            $"/read?kind=2-4-dinitrophenylhydrazone&parent=long-invented&read=108-121&preparation=crude&reach=220&sublimes=yes&identification={answer.Id}",
            $"/read?kind=semicarbazone&expected=260-262+dec.&read=250-255&reach=255&sublimes=yes&identification={answer.Id}",
            $"/read?kind=oxime&read=100-104&sublimes=yes&identification={answer.Id}",
            "/read?standard=benzophenone&read=44-46&enthalpy=18,2",
            "/read?kind=",
        })
        {
            await reader.OpenAsync(address);
            Assert.Equal(1, await reader.Page.Locator(".reading").CountAsync());
            foreach (var paper in new[] { "A4", "Letter" })
            {
                if (await reader.PagesAsync(paper) is not 1 and var pages)
                {
                    faults.Add($"{address}: {pages} pages of {paper}");
                }
            }

            faults.AddRange((await reader.FaultsInPrintAsync(SmallestPoints, ".cautions dd", ".heating td", ".work li")).Select(fault => $"{address}: {fault}"));
        }

        Assert.True(faults.Count == 0, string.Join('\n', faults));
    }

    [Fact]
    public async Task OneComesToItFromACompoundAndItSaysWhatTheServiceAnswers()
    {
        using var client = shown.Service.Administrator();
        var expected = await client.Practice.GuideReadingAsync(
            new ReadingGuideRequest { Parent = "benzaldehyde", Kind = "semicarbazone", Read = "211,5-214", Preparation = Preparation.Recrystallised, ReachCelsius = 250 }, Gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/table/benzaldehyde");
        await reader.Page.Locator("h2:has-text('Semicarbazone') + p").GetByRole(AriaRole.Link, new() { Name = "read its melting range" }).ClickAsync();
        Assert.Equal("Reading the melting range of benzaldehyde semicarbazone", await reader.Page.Locator("h1").InnerTextAsync());

        await reader.FillAsync("Range as read (°C)", "211,5-214");
        await reader.FillAsync("Bath or thermometer ends at (°C)", "250");
        await reader.Page.Locator("#preparation").SelectOptionAsync("Recrystallised");
        await reader.PressAsync("Make the guide");
        var guide = await reader.Page.Locator(".reading").InnerTextAsync();
        foreach (var said in expected.Steps.SelectMany(step => new[] { step.Text, step.Why, step.CelsiusInWords() })
            .Concat(expected.Advice.Select(advice => advice.InWords()))
            .Concat(expected.Cautions.Select(caution => caution.Text))
            .Concat(expected.Purity is { } purity ? purity.Figures().Select(figure => figure.Value).Append(purity.Sentence) : [expected.PurityMissing!])
            .Concat([expected.Deferral, expected.ExpectedInWords(), expected.MinutesInWords()])
            .Concat(expected.Sources.Select(source => source.Citation)))
        {
            Assert.Contains(said, guide, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task AnAnswerThatProposesToRecrystalliseLeadsToWhetherItIsWorthIt()
    {
        using var client = shown.Service.Administrator();
        var answer = await client.Identifications.IdentifyAsync(Impure, cancellationToken: Gone);
        var step = answer.NextSteps.Single(step => step.Kind == NextStepKind.Recrystallisation);
        var expected = await client.Practice.GuideReadingAsync(new ReadingGuideRequest { Kind = step.Key, Observation = Impure }, Gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/identifications/" + answer.Id);
        await reader.Page.Locator(".steps th").GetByRole(AriaRole.Link, new() { Name = step.Name, Exact = true }).ClickAsync();

        Assert.Contains(expected.Recrystallisation!.Sentence, await reader.Page.Locator(".reading").InnerTextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task WhatDoesNotFitIsRefusedAtItsField()
    {
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/read?kind=&expected=warm&read=130-120");

        Assert.Equal(0, await reader.Page.Locator(".reading").CountAsync());
        Assert.Equal(2, await reader.Page.Locator(".faults a").CountAsync());
        Assert.EndsWith("#expected", await reader.Page.Locator(".faults a").First.GetAttributeAsync("href"), StringComparison.Ordinal);
        Assert.Equal("warm", await reader.Page.Locator("#expected").InputValueAsync());
        Assert.Equal("true", await reader.Page.Locator("#read").GetAttributeAsync("aria-invalid"));
    }

    // Melted crude and wide, with all else that would tell more a minute done: among the steps shown.
    private static IdentificationRequest Impure => new()
    {
        State = PhysicalState.Liquid,
        BoilingPoint = new BoilingPointObserved { Range = "55-57" },
        Derivatives = [new DerivativeObserved { Kind = "2-4-dinitrophenylhydrazone", MeltingRange = "108-121", Preparation = Preparation.Crude }],
    };
}
