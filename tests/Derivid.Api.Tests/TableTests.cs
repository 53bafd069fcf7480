using System.Net;
using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Store.Seeding;

namespace Derivid.Api.Tests;

/// <summary>Reading the table: filters, pages, conditional requests.</summary>
public sealed class TableTests(SqliteService service)
{
    public static TheoryData<string> Lists =>
    [
        "/api/v1/parents", "/api/v1/derivatives", "/api/v1/derivative-kinds", "/api/v1/spot-tests", "/api/v1/colours",
        "/api/v1/sources", "/api/v1/melting-point-standards", "/api/v1/table-versions",
        "/api/v1/derivatives?near=126&within=10", "/api/v1/parents?kind=aldehyde&q=benz",
    ];

    public static TheoryData<string> Conditional =>
    [
        .. Lists.Select(l => l.Data),
        "/api/v1/parents/propanone", "/api/v1/parents/propanone/structure", "/api/v1/sources/handbooks-recalled", "/api/v1/table-versions/1",
    ];

    [Theory]
    [MemberData(nameof(Lists))]
    public async Task PagesHoldEveryRowExactlyOnce(string list)
    {
        var whole = new List<string>();
        for (var next = With(list, "limit=500"); next is not null;)
        {
            next = await AddPageAsync(next, whole);
        }

        var paged = new List<string>();
        for (var next = With(list, "limit=7"); next is not null;)
        {
            next = await AddPageAsync(next, paged);
        }

        var total = (await service.Client.JsonAtAsync(list)).GetProperty("total").GetInt32();
        Assert.NotEmpty(whole);
        Assert.Equal(total, whole.Count);
        Assert.Equal(whole, paged);
        Assert.Distinct(paged);
    }

    [Fact]
    public async Task EveryRowOfTheSeedTablesIsServed()
    {
        var table = SeedTables.Load();
        var expected = new Dictionary<string, int>
        {
            ["parents"] = table.Parents.Count,
            ["derivatives"] = table.Derivatives.Count,
            ["derivative-kinds"] = table.Kinds.Count,
            ["spot-tests"] = table.SpotTests.Count,
            ["colours"] = table.Colours.Count,
            ["sources"] = table.Sources.Count,
            ["melting-point-standards"] = table.Standards.Count,
            ["table-versions"] = 1,
        };

        foreach (var (list, count) in expected)
        {
            Assert.Equal(count, (await service.Client.JsonAtAsync($"/api/v1/{list}")).GetProperty("total").GetInt32());
        }
    }

    [Theory]
    [MemberData(nameof(Conditional))]
    public async Task UnchangedTableIsNotSentAgain(string address)
    {
        using var first = await service.Client.GetAsync(address, TestContext.Current.CancellationToken);
        var tag = first.Headers.ETag!.ToString();
        using var second = await service.Client.GetAsync(address, noneMatch: tag);
        using var other = await service.Client.GetAsync(address, noneMatch: "\"another\"");

        Assert.Equal(HttpStatusCode.OK, first.StatusCode);
        Assert.Equal(HttpStatusCode.NotModified, second.StatusCode);
        Assert.Equal(tag, second.Headers.ETag?.ToString());
        Assert.Empty(await second.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
        Assert.Equal(HttpStatusCode.OK, other.StatusCode);
    }

    [Theory]
    [InlineData("propanone")]
    [InlineData("Propanone")]
    [InlineData("acetone")]
    [InlineData("67-64-1")]
    public async Task ParentIsFoundByKeyNameSynonymOrCasNumber(string name)
    {
        var answer = await service.Client.JsonAtAsync($"/api/v1/parents/{name}");

        Assert.Equal("propanone", answer.GetProperty("parent").GetProperty("key").GetString());
        Assert.Equal("C3H6O", answer.GetProperty("parent").GetProperty("formula").GetString());
        Assert.All(
            answer.GetProperty("derivatives").EnumerateArray(),
            d => Assert.Equal("propanone", d.GetProperty("parentKey").GetString()));
        Assert.Contains(
            answer.GetProperty("constants").EnumerateArray(), c => c.GetProperty("property").GetString() == "boilingPoint");
    }

    [Fact]
    public async Task DerivativesAreFiltered()
    {
        var rows = await AllAsync(
            "/api/v1/derivatives?kind=2,4-DNPH&parent=acetone&sourceKey=handbooks-recalled&verification=crossChecked");

        var row = Assert.Single(rows);
        Assert.Equal("propanone", row.GetProperty("parentKey").GetString());
        Assert.Equal("2-4-dinitrophenylhydrazone", row.GetProperty("kindKey").GetString());
    }

    [Fact]
    public async Task NearestDerivativesComeFirst()
    {
        var rows = await AllAsync("/api/v1/derivatives?near=126&within=3");
        var distances = rows.ConvertAll(r => Math.Max(
            0, Math.Max(r.GetProperty("lowCelsius").GetDouble() - 126, 126 - r.GetProperty("highCelsius").GetDouble())));
        var expected = SeedTables.Load().Derivatives.Count(d => d.LowCelsius <= 129 && d.HighCelsius >= 123);

        Assert.Equal(expected, rows.Count);
        Assert.Equal(distances.Order(), distances);
        Assert.All(distances, d => Assert.InRange(d, 0, 3));
    }

    [Fact]
    public async Task ParentsAreFiltered()
    {
        var rows = await AllAsync("/api/v1/parents?kind=ketone&formula=C8H8O&derivativeKind=oxime&q=ACETO");

        Assert.Contains(rows, r => r.GetProperty("key").GetString() == "acetophenone");
        Assert.All(rows, r => Assert.Equal("C8H8O", r.GetProperty("formula").GetString()));
        Assert.All(rows, r => Assert.Equal("ketone", r.GetProperty("kind").GetString()));
    }

    [Fact]
    public async Task SpotTestsOfOneQuestionAreListed()
    {
        var rows = await AllAsync("/api/v1/spot-tests?questionKey=aldehyde");

        Assert.Contains(rows, r => r.GetProperty("key").GetString() == "tollens");
        Assert.All(rows, r => Assert.Equal("aldehyde", r.GetProperty("questionKey").GetString()));
    }

    [Theory]
    [InlineData("/api/v1/parents?colour=red", "?colour", "derivativeKind")]
    [InlineData("/api/v1/parents?kind=alcohol", "?kind", "aldehyde")]
    [InlineData("/api/v1/parents?kind=ketone&kind=aldehyde", "?kind", "once")]
    [InlineData("/api/v1/parents?limit=0", "?limit", "1 to 500")]
    [InlineData("/api/v1/parents?limit=many", "?limit", "number")]
    [InlineData("/api/v1/parents?limit=1e999", "?limit", "number")]
    [InlineData("/api/v1/parents?derivativeKind=hydrazoline", "?derivativeKind", "semicarbazone")]
    [InlineData("/api/v1/parents?cursor=abc", "?cursor", "next link")]
    [InlineData("/api/v1/parents?cursor=!!", "?cursor", "next link")]
    [InlineData("/api/v1/derivatives?parent=propanoen", "?parent", "propanone")]
    [InlineData("/api/v1/derivatives?sourceKey=hearsay", "?sourceKey", "/api/v1/sources")]
    [InlineData("/api/v1/derivatives?within=3", "?within", "near")]
    [InlineData("/api/v1/derivatives?near=1000", "?near", "-200 to 450")]
    [InlineData("/api/v1/spot-tests?questionKey=colour", "?questionKey", "aldehyde")]
    [InlineData("/api/v1/table-versions/1?x=1", "?x", "no parameters")]
    [InlineData("/api/v1/parents/propanone?limit=1", "?limit", "tableVersion")]
    public async Task WrongParameterIsNamed(string address, string place, string allowed)
    {
        using var response = await service.Client.GetAsync(address, TestContext.Current.CancellationToken);
        var message = (await response.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt(place);

        Assert.Contains(allowed, message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task CursorOfAnotherListIsRefused()
    {
        var next = (await service.Client.JsonAtAsync("/api/v1/parents?limit=1")).GetProperty("next").GetString()!;
        var cursor = next[(next.IndexOf("cursor=", StringComparison.Ordinal) + 7)..];
        using var otherFilter = await service.Client.GetAsync(
            $"/api/v1/parents?kind=ketone&cursor={cursor}", TestContext.Current.CancellationToken);
        using var otherList = await service.Client.GetAsync(
            $"/api/v1/sources?cursor={cursor}", TestContext.Current.CancellationToken);
        using var otherVersion = await service.Client.GetAsync(
            $"/api/v1/parents?tableVersion=2&cursor={cursor}", TestContext.Current.CancellationToken);

        (await otherFilter.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("?cursor");
        (await otherList.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("?cursor");
        (await otherVersion.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("?tableVersion");
    }

    [Theory]
    [InlineData("/api/v1/parents/propanoen", "propanone")]
    [InlineData("/api/v1/sources/hearsay", "hearsay")]
    [InlineData("/api/v1/table-versions/7", "from 1 to 1")]
    [InlineData("/api/v1/table-versions/first", "from 1 to 1")]
    [InlineData("/api/v1/parents?tableVersion=7", "from 1 to 1")]
    public async Task MissingRowIsNotFound(string address, string told)
    {
        using var response = await service.Client.GetAsync(address, TestContext.Current.CancellationToken);

        var problem = await response.ProblemAsync(ProblemTypes.NotFound);
        Assert.Contains(told, (string)problem["detail"]!, StringComparison.Ordinal);
    }

    private static string With(string address, string parameter) =>
        address + (address.Contains('?', StringComparison.Ordinal) ? "&" : "?") + parameter;

    private async Task<string?> AddPageAsync(string address, List<string> rows)
    {
        using var response = await service.Client.GetAsync(address, TestContext.Current.CancellationToken);
        var page = await response.JsonAsync(HttpStatusCode.OK);
        rows.AddRange(page.GetProperty("items").EnumerateArray().Select(r => r.GetRawText()));
        var next = page.TryGetProperty("next", out var link) ? link.GetString() : null;
        Assert.Equal(next is null ? null : $"<{next}>; rel=\"next\"", response.Headers.TryGetValues("Link", out var links) ? links.Single() : null);
        return next;
    }

    private async Task<List<JsonElement>> AllAsync(string address)
    {
        var page = await service.Client.JsonAtAsync(With(address, "limit=500"));
        Assert.False(page.TryGetProperty("next", out _));
        return [.. page.GetProperty("items").EnumerateArray()];
    }
}
