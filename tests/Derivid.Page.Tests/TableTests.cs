using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Compounds;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>What the views of the table show, held against the table.</summary>
[Collection(nameof(ShownPage))]
public sealed class TableTests(BrowserFixture browser, ShownPage shown)
{
    private const string Semicarbazone = "semicarbazone";

    [Fact]
    public async Task CompoundsAreSearchedFilteredAndPutInOrder()
    {
        var gone = TestContext.Current.CancellationToken;
        using var client = shown.Service.Administrator();
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address, Way.NoScript);

        // Letters in a name, and a formula.
        await reader.OpenAsync("/table");
        await reader.FillAsync("Name, CAS number or formula", "cyclohex");
        await reader.PressAsync("Search");
        await ShowsAsync(await client.Table.ListParentsAsync(new ParentQuery { Q = "cyclohex" }, gone).ToListAsync(gone));
        await reader.FillAsync("Name, CAS number or formula", "C7H6O");
        await reader.PressAsync("Search");
        Assert.Contains("benzaldehyde", await NamesAsync());
        Assert.All(await ColumnAsync("Formula"), formula => Assert.StartsWith("C7H6O", formula, StringComparison.Ordinal));

        // By function and derivative, lightest first.
        await reader.OpenAsync("/table");
        await reader.ChooseAsync("Compounds", "ketone");
        await reader.ChooseAsync("With a value for", Semicarbazone);
        await reader.ChooseAsync("In order of", "molar mass");
        await reader.PressAsync("Search");
        var ketones = await client.Table.ListParentsAsync(new ParentQuery { Kind = ParentKind.Ketone, DerivativeKind = Semicarbazone }, gone).ToListAsync(gone);
        Assert.InRange(ketones.Count, 20, 200);
        await ShowsAsync(ketones);
        Assert.All(await ColumnAsync("Function"), function => Assert.Equal("ketone", function));
        var masses = (await ColumnAsync("g/mol")).Select(mass => Figure.Read(mass)!.Value).ToList();
        Assert.Equal(masses.Order(), masses);

        // The commonest first.
        await reader.ChooseAsync("In order of", "how common");
        await reader.PressAsync("Search");
        var common = ketones.ToDictionary(parent => parent.Name, parent => parent.Commonness ?? Commonness.Rare);
        var order = (await NamesAsync()).Select(name => common[name]).ToList();
        Assert.Equal(order.Order(), order);
        Assert.True(order.Distinct().Count() > 1);

        // Who types a whole name is led to the compound, and from there to all that mention it.
        await reader.OpenAsync("/table");
        await reader.FillAsync("Name, CAS number or formula", "98-86-2");
        await reader.PressAsync("Search");
        Assert.Equal("acetophenone", await reader.HeadingAsync());

        async Task ShowsAsync(IReadOnlyList<Parent> parents)
        {
            Assert.NotEmpty(parents);
            Assert.Equal(parents.Select(parent => parent.Name).Order(StringComparer.Ordinal), (await NamesAsync()).Order(StringComparer.Ordinal));
            Assert.Equal(Figure.Count(parents.Count, "compound"), await reader.Page.Locator("main [role=status]").InnerTextAsync());
        }

        async Task<IReadOnlyList<string>> NamesAsync() => await reader.Page.Locator("main tbody th").AllInnerTextsAsync();

        async Task<IReadOnlyList<string>> ColumnAsync(string label) => await reader.Page.Locator($"main td[data-label='{label}']").AllInnerTextsAsync();
    }

    // Values by source with their state, drawn where the axis has them, and who lies within 5 °C.
    [Fact]
    public async Task ACompoundShowsItsValuesTheirSpreadAndItsNeighbours()
    {
        var gone = TestContext.Current.CancellationToken;
        using var client = shown.Service.Administrator();
        var detail = await client.Table.GetParentAsync("cyclohexanone", null, gone);
        await using var reader = await Reader.SitDownAsync(browser, shown.Service.Address);
        await reader.OpenAsync("/table/cyclohexanone");
        var tables = reader.Page.Locator("table.spread");
        var kinds = detail.Derivatives.GroupBy(row => row.KindKey).ToList();
        Assert.Equal(kinds.Count, await tables.CountAsync());
        Assert.True(kinds.Count > 3);
        for (var place = 0; place < kinds.Count; place++)
        {
            var values = kinds[place].OrderBy(row => row.LowCelsius).ToList();
            var (low, high) = (values.Min(row => row.LowCelsius), values.Max(row => row.HighCelsius));
            var rows = tables.Nth(place).Locator("tbody tr");
            Assert.Equal(values.Count, await rows.CountAsync());
            Assert.Equal(
                high - low < 0.05 ? "All sources agree." : $"Listed at {Figure.Range(low, high)}, a span of {Figure.Text(high - low, 1)} °C.",
                await tables.Nth(place).Locator("caption").InnerTextAsync());
            for (var row = 0; row < values.Count; row++)
            {
                var said = await rows.Nth(row).InnerTextAsync();
                Assert.Contains(Figure.Range(values[row].LowCelsius, values[row].HighCelsius, values[row].Decomposes), said, StringComparison.Ordinal);
                Assert.Contains(values[row].SourceKey, said, StringComparison.Ordinal);
                var at = await rows.Nth(row).Locator("rect.listed").EvaluateAsync<double>("rect => +rect.getAttribute('x')");
                Assert.InRange(at, (1000 * (values[row].LowCelsius - low + 5) / (high - low + 10)) - 1, (1000 * (values[row].LowCelsius - low + 5) / (high - low + 10)) + 1);
            }

            // Somebody is a neighbour whose listed range comes within 5 °C of one of the compound's own.
            var near = await client.Table.ListDerivativesAsync(new DerivativeQuery { Kind = kinds[place].Key }, gone)
                .Where(other => other.ParentKey != "cyclohexanone" && values.Any(own => other.LowCelsius <= own.HighCelsius + 5 && other.HighCelsius >= own.LowCelsius - 5))
                .Select(other => other.Computed.ParentName).Distinct().ToListAsync(gone);
            var told = tables.Nth(place).Locator("xpath=following-sibling::*[1][self::p]");
            var named = await told.CountAsync() == 0 ? [] : (await told.GetByRole(AriaRole.Link).AllInnerTextsAsync()).ToList();
            Assert.Equal(near.Order(StringComparer.Ordinal), named.Order(StringComparer.Ordinal));
        }

        foreach (var source in detail.Derivatives.Select(row => row.SourceKey).Distinct())
        {
            Assert.True(await reader.Page.Locator("#source-" + source).CountAsync() == 1, source);
        }
    }
}
