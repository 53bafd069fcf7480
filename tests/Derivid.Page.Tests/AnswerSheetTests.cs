using System.Globalization;
using System.Text.Json;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Practice.Decisions;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>What an answer shows, held against what the service answered.</summary>
[Collection(nameof(ShownPage))]
public sealed class AnswerSheetTests(BrowserFixture browser, ShownPage shown)
{
    private const string Dnp = "2-4-dinitrophenylhydrazone";

    // With what is quickly seen of a liquid known, derivatives are what is proposed.
    private static readonly IdentificationRequest OfALiquid = new()
    {
        State = Core.Observations.PhysicalState.Liquid, BoilingPoint = new BoilingPointObserved { Range = "155-156" },
    };

    // Single compounds, a group and "none of these" stand in the order of what they have.
    [Fact]
    public async Task WhatItMayBeStandsInOrderWithGroupsBoxedAndNoneAtItsPlace()
    {
        var gone = TestContext.Current.CancellationToken;
        using var client = shown.Service.Administrator();
        var answer = await FirstAsync(client, reply => reply.Groups.Any(group => group.SeparatedBy is not null)
            && reply.Candidates[0].Posterior > reply.NoneOfThese.Posterior && reply.Candidates[^1].Posterior < reply.NoneOfThese.Posterior, gone);
        await using var reader = await OpenedAsync(answer);

        var entries = reader.Page.Locator("ol.candidates > li");
        var posteriors = new List<double>();
        var named = new List<string>();
        for (var place = 0; place < await entries.CountAsync(); place++)
        {
            var entry = entries.Nth(place);
            var names = (await entry.Locator(".who-is-it a").AllInnerTextsAsync()).ToList();
            named.AddRange(names);
            Assert.Equal((place + 1).ToString(CultureInfo.InvariantCulture), await entry.Locator(".rank").First.InnerTextAsync());
            var held = answer.Candidates.Where(candidate => names.Contains(candidate.Parent.Name)).ToList();
            Assert.Equal(names.Count, held.Count);
            if (await entry.EvaluateAsync<bool>("entry => entry.classList.contains('group-of')"))
            {
                // Boxed all round, said to be one, with the step that would part them.
                var group = Assert.Single(answer.Groups, each => each.ParentKeys.Contains(held[0].Parent.Key));
                Assert.Equal(answer.Candidates.Where(candidate => group.ParentKeys.Contains(candidate.Parent.Key)), held);
                Assert.Equal(["solid 2px"], await entry.EvaluateAsync<string[]>(
                    "entry => { const look = getComputedStyle(entry); return [...new Set(['Top', 'Right', 'Bottom', 'Left'].map(side => `${look[`border${side}Style`]} ${look[`border${side}Width`]}`))]; }"));
                var heading = await entry.Locator("p").First.InnerTextAsync();
                Assert.Contains(Figure.Percent(group.Posterior) + " together", heading, StringComparison.Ordinal);
                Assert.EndsWith(group.SeparatedBy is { } step ? "What separates them: " + step.Sentence : "Nothing in the table separates them.", heading, StringComparison.Ordinal);
                posteriors.Add(group.Posterior);
            }
            else if (names.Count == 0)
            {
                Assert.Contains("none of these", await entry.InnerTextAsync(), StringComparison.Ordinal);
                Assert.Contains(answer.NoneOfThese.Sentence, await entry.InnerTextAsync(), StringComparison.Ordinal);
                posteriors.Add(answer.NoneOfThese.Posterior);
            }
            else
            {
                posteriors.Add(held[0].Posterior);
            }
        }

        Assert.Equal(answer.Candidates.Select(candidate => candidate.Parent.Name).Order(StringComparer.Ordinal), named.Order(StringComparer.Ordinal));
        Assert.Equal(posteriors.OrderDescending(), posteriors);
        Assert.InRange(posteriors.IndexOf(answer.NoneOfThese.Posterior), 1, posteriors.Count - 2);
    }

    // The chart is read back: where the reading, its window and every listed value are drawn, by the axis beside them.
    [Fact]
    public async Task ReadingsAndListedValuesAreDrawnWhereTheAxisHasThem()
    {
        var gone = TestContext.Current.CancellationToken;
        using var client = shown.Service.Administrator();
        var answer = await IdentifyAsync(client, gone, (Dnp, "236-238"), ("semicarbazone", "221-223"));
        await using var reader = await OpenedAsync(answer);
        await reader.LayOutAsync();
        var drawn = JsonSerializer.Deserialize<Chart[]>(await reader.Page.EvaluateAsync<string>(
            """
            () => {
              const at = rect => [+rect.getAttribute('x'), +rect.getAttribute('x') + +rect.getAttribute('width')];
              return JSON.stringify([...document.querySelectorAll('figure.chart')].map(chart => ({
                title: chart.querySelector('figcaption').innerText,
                axis: [...chart.querySelectorAll('.axis span')].map(span => parseFloat(span.textContent.replace('\u2212', '-'))),
                rows: [...chart.querySelectorAll('tbody tr')].map(row => ({
                  name: row.querySelector('th').innerText,
                  window: [...row.querySelectorAll('.window')].map(at), reading: [...row.querySelectorAll('.reading')].map(at), listed: [...row.querySelectorAll('.listed')].map(at),
                  figures: row.querySelector('td.number').innerText,
                })),
              })));
            }
            """), JsonSerializerOptions.Web)!;

        Assert.Equal(answer.Readings.Count, drawn.Length);
        foreach (var (chart, reading) in drawn.Zip(answer.Readings))
        {
            Assert.Contains("read " + Figure.Range(reading.AsRead.OnsetCelsius, reading.AsRead.ClearPointCelsius), chart.Title, StringComparison.Ordinal);
            Assert.Equal(answer.Candidates.Take(6).Select(candidate => candidate.Parent.Name), chart.Rows.Select(row => row.Name));
            foreach (var (row, candidate) in chart.Rows.Zip(answer.Candidates))
            {
                var detail = await client.Table.GetParentAsync(candidate.Parent.Key, null, gone);
                var listed = detail.Derivatives.Where(value => value.KindKey == reading.Subject).OrderBy(value => value.LowCelsius).ThenBy(value => value.HighCelsius).ToList();
                Near(chart, [(reading.AsUsed.OnsetCelsius, reading.AsUsed.ClearPointCelsius)], row.Reading);
                Near(chart, [(reading.AsUsed.OnsetCelsius - 5, reading.AsUsed.ClearPointCelsius + 5)], row.Window);
                Near(chart, [.. listed.Select(value => (value.LowCelsius, value.HighCelsius))], row.Listed);
                Assert.Equal(
                    listed.Count == 0 ? "not listed" : string.Join(", ", listed.Select(value => Words(value)).Distinct()),
                    row.Figures);
            }
        }

        static string Words(DerivativeItem value)
        {
            var form = value.CarbonylsCondensed > 1 ? value.Form is null ? "bis" : "bis, " + value.Form : value.Form;
            return Figure.Span(value.LowCelsius, value.HighCelsius, decimals: 1) + (value.Decomposes ? " dec." : "") + (form is null ? "" : $" ({form})");
        }
    }

    [Fact]
    public async Task StepsSayWhatIsExpectedOfTheLeaders()
    {
        var gone = TestContext.Current.CancellationToken;
        using var client = shown.Service.Administrator();
        var answer = await client.Identifications.IdentifyAsync(OfALiquid with { Derivatives = [new DerivativeObserved { Kind = Dnp, MeltingRange = "162-163" }] }, cancellationToken: gone);
        Assert.Contains(answer.NextSteps.Take(5), step => step.Kind == NextStepKind.Derivative);
        await using var reader = await OpenedAsync(answer);
        await reader.LayOutAsync();
        var leaders = answer.Candidates.Take(4).ToList();
        Assert.Equal(leaders.Select(candidate => candidate.Parent.Name), (await reader.Page.Locator(".steps thead th").AllInnerTextsAsync()).Skip(2));
        var rows = reader.Page.Locator(".steps tbody tr");
        Assert.Equal(Math.Min(5, answer.NextSteps.Count), await rows.CountAsync());
        for (var place = 0; place < await rows.CountAsync(); place++)
        {
            var step = answer.NextSteps[place];
            var cells = await rows.Nth(place).Locator("th, td").AllInnerTextsAsync();
            Assert.Equal(step.Name + (StepForecaster.Forecastable.Contains(step.Kind) ? " what if?" : ""), cells[0]);
            Assert.Contains(Figure.Text(step.Minutes, 0) + " min", cells[1], StringComparison.Ordinal);
            if (step.Kind != NextStepKind.Derivative)
            {
                continue;
            }

            foreach (var (candidate, cell) in leaders.Zip(cells.Skip(2)))
            {
                var listed = (await client.Table.GetParentAsync(candidate.Parent.Key, null, gone)).Derivatives.Where(value => value.KindKey == step.Key).ToList();
                Assert.Equal(
                    listed.Count == 0 ? "not listed" : Figure.Range(listed.Min(value => value.LowCelsius), listed.Max(value => value.HighCelsius), listed.Any(value => value.Decomposes)),
                    cell);
            }
        }

        Assert.Contains(answer.NextSteps[0].Sentence, await reader.Page.Locator(".next").InnerTextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task EachPieceOfEvidenceIsABarToItsSideAndEachValueHasSourceAndState()
    {
        var gone = TestContext.Current.CancellationToken;
        using var client = shown.Service.Administrator();
        var answer = await IdentifyAsync(client, gone, (Dnp, "236-238"));
        await using var reader = await OpenedAsync(answer);
        await reader.UnfoldAllAsync();
        await reader.LayOutAsync();
        foreach (var candidate in answer.Candidates.Take(6))
        {
            var entry = reader.Page.Locator("li.candidate", new PageLocatorOptions { Has = reader.Page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = candidate.Parent.Name, Exact = true }) }).First;
            Assert.Equal(candidate.Evidence.Select(piece => piece.Sentence), await entry.Locator(".evidence td:last-child").AllInnerTextsAsync());
            var bars = await entry.Locator(".evidence svg").EvaluateAllAsync<string[]>(
                "bars => bars.map(bar => { const part = bar.querySelector('.for, .against'); return `${part.getAttribute('class')} ${part.getAttribute('width')}`; })");
            Assert.Equal(
                candidate.Evidence.Select(piece => $"{(piece.LogLikelihoodRatio < 0 ? "against" : "for")} {Math.Abs(Math.Round(500 * Math.Clamp(piece.LogLikelihoodRatio / 5, -1, 1)))}"),
                bars);
            var listed = (await client.Table.GetParentAsync(candidate.Parent.Key, null, gone)).Derivatives.Where(value => value.KindKey == Dnp).OrderBy(value => value.LowCelsius).ThenBy(value => value.HighCelsius).ToList();
            var rows = await entry.Locator("table.stack tbody tr").AllInnerTextsAsync();
            Assert.Equal(listed.Count, rows.Count);
            foreach (var (value, row) in listed.Zip(rows))
            {
                Assert.Contains(Figure.Range(value.LowCelsius, value.HighCelsius, value.Decomposes), row, StringComparison.Ordinal);
                Assert.Contains(value.SourceKey, row, StringComparison.Ordinal);
                Assert.Contains(value.Verification switch { Core.Compounds.Verification.CrossChecked => "cross-checked", var other => other.ToString().ToLowerInvariant() }, row, StringComparison.Ordinal);
            }
        }
    }

    [Fact]
    public async Task TwoArePutBesideEachOther()
    {
        using var client = shown.Service.Administrator();
        var answer = await IdentifyAsync(client, TestContext.Current.CancellationToken, (Dnp, "125-127"));
        await using var reader = await OpenedAsync(answer);
        var (one, other) = (answer.Candidates[2], answer.Candidates[0]);
        await reader.ChooseAsync("One", one.Parent.Name);
        await reader.ChooseAsync("The other", other.Parent.Name);
        await reader.PressAsync("Compare");
        var columns = reader.Page.Locator("section:has(#beside) .columns > div");
        foreach (var (candidate, place) in new[] { one, other }.Select((candidate, place) => (candidate, place)))
        {
            var column = columns.Nth(place);
            Assert.Equal($"{candidate.Parent.Name}, {Figure.Percent(candidate.Posterior)}", await column.Locator("h3").InnerTextAsync());
            Assert.Equal(candidate.Evidence.Select(piece => piece.Sentence), await column.Locator("td:last-child").AllInnerTextsAsync());
        }
    }

    // Phenylhydrazine is as hazardous a reagent as Tollens' and explodes not: what can explode is told first, whatever else harms.
    [Fact]
    public async Task WhatCanExplodeIsCautionedOfFirst()
    {
        using var client = shown.Service.Administrator();
        var answer = await client.Identifications.IdentifyAsync(
            new IdentificationRequest
            {
                Derivatives = [new DerivativeObserved { Kind = "phenylhydrazone", MeltingRange = "157-158" }, new DerivativeObserved { Kind = "oxime", MeltingRange = "34-35" }],
                SpotTests =
                [
                    new SpotTestObserved { Test = "chromic-acid", Outcome = SpotTestOutcome.Positive },
                    new SpotTestObserved { Test = "tollens", Outcome = SpotTestOutcome.Positive },
                ],
            },
            cancellationToken: TestContext.Current.CancellationToken);
        await using var reader = await OpenedAsync(answer);
        await reader.LayOutAsync();
        Assert.Equal("What you used", await reader.Page.Locator(".cautions h3").First.InnerTextAsync());
        var used = await reader.Page.Locator(".cautions dl").First.Locator("dt").AllInnerTextsAsync();
        Assert.Equal(["Tollens test: can explode", "hydroxylamine: can explode"], used.Take(2));
        Assert.Equal(["chromic acid test", "phenylhydrazine"], used.Skip(2).Order(StringComparer.Ordinal));

        // Proposed only, it still comes before what was used and can't.
        var proposed = await client.Identifications.IdentifyAsync(
            OfALiquid with { Derivatives = [new DerivativeObserved { Kind = "semicarbazone", MeltingRange = "166-167" }] }, cancellationToken: TestContext.Current.CancellationToken);
        Assert.Contains(proposed.NextSteps.Take(NextStep.Cautioned), step => step.Key is Dnp or "tollens" or "oxime");
        await reader.OpenAsync("/identifications/" + proposed.Id);
        await reader.LayOutAsync();
        Assert.Equal(["What is proposed", "What you used"], await reader.Page.Locator(".cautions h3").AllInnerTextsAsync());
        Assert.EndsWith(": can explode", await reader.Page.Locator(".cautions dt").First.InnerTextAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task AnAnswerIsCopiedByItsAddressAndPrinted()
    {
        using var client = shown.Service.Administrator();
        var answer = await IdentifyAsync(client, TestContext.Current.CancellationToken, (Dnp, "125-127"));
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.Page.Context.GrantPermissionsAsync(["clipboard-read", "clipboard-write"]);
        await reader.Page.AddInitScriptAsync("window.print = () => (document.documentElement.dataset.printed = 'yes')");
        await reader.OpenAsync("/identifications/" + answer.Id);
        await reader.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Copy its address" }).ClickAsync();
        await reader.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Copied" }).WaitForAsync();
        Assert.Equal(reader.Page.Url, await reader.Page.EvaluateAsync<string>("() => navigator.clipboard.readText()"));
        await reader.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Print it" }).ClickAsync();
        Assert.Equal("yes", await reader.Page.Locator("html").GetAttributeAsync("data-printed"));

        // Without scripts there is the address as a link, and nothing to press that does nothing.
        await using var plain = await Reader.SitDownAsync(browser, shown.Service.Address, Way.NoScript);
        await plain.OpenAsync("/identifications/" + answer.Id);
        Assert.False(await plain.Page.GetByText("Print it").IsVisibleAsync());
        await plain.FollowAsync("Its own address");
        Assert.Equal(reader.Page.Url, plain.Page.Url);
    }

    private static void Near(Chart chart, (double Low, double High)[] expected, double[][] drawn)
    {
        Assert.Equal(expected.Length, drawn.Length);
        foreach (var ((low, high), at) in expected.Zip(drawn))
        {
            // A point has a width to be seen by, and what lies beyond the strip is drawn at its edge.
            Assert.InRange(at[0], Math.Min(Place(low), 991) - 2, Place(low) + 2);
            Assert.InRange(at[1], Place(high) - 2, Math.Max(Place(high), at[0] + 9) + 2);
        }

        double Place(double celsius) => 1000 * Math.Clamp((celsius - chart.Axis[0]) / (chart.Axis[^1] - chart.Axis[0]), 0, 1);
    }

    private async Task<Reader> OpenedAsync(IdentificationReply answer)
    {
        var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/identifications/" + answer.Id);
        return reader;
    }

    private static Task<IdentificationReply> IdentifyAsync(DerividClient client, CancellationToken gone, params (string Kind, string Range)[] derivatives) =>
        client.Identifications.IdentifyAsync(
            new IdentificationRequest { Derivatives = [.. derivatives.Select(made => new DerivativeObserved { Kind = made.Kind, MeltingRange = made.Range })] }, cancellationToken: gone);

    // The first of many readings whose answer is of the sort asked for.
    private static async Task<IdentificationReply> FirstAsync(DerividClient client, Func<IdentificationReply, bool> isSought, CancellationToken gone)
    {
        for (var celsius = 100; celsius < 260; celsius++)
        {
            var answer = await IdentifyAsync(client, gone, (Dnp, $"{celsius}-{celsius + 1}"));
            if (isSought(answer))
            {
                return answer;
            }
        }

        throw new InvalidOperationException("No reading has such an answer.");
    }

    private sealed record Chart(string Title, double[] Axis, Row[] Rows);

    private sealed record Row(string Name, double[][] Window, double[][] Reading, double[][] Listed, string Figures);
}
