using System.Net;
using System.Xml.Linq;
using Derivid.Core.Teaching;

namespace Derivid.Api.Tests;

/// <summary>Drawings over HTTP: what is drawn, what is refused and in which words, and that a drawing can do no harm.</summary>
public sealed class DrawingTests(SqliteService service)
{
    private const string Drawing = "/api/v1/structures/drawing";

    [Theory]
    [InlineData("propanone/structure", "propanone", 4)]
    [InlineData("67-64-1/structure?kind=SC", "propanone semicarbazone", 8)]
    [InlineData("glyoxal/structure?kind=oxime", "glyoxal oxime", 6)]
    [InlineData("benzil/structure?kind=oxime&carbonylsCondensed=2", "benzil oxime", 18)]
    public async Task AParentOrItsDerivativeIsDrawn(string address, string title, int atoms)
    {
        using var response = await service.Client.GetAsync("/api/v1/parents/" + address, TestContext.Current.CancellationToken);
        var svg = XElement.Parse(await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));

        Assert.Equal("image/svg+xml", response.Content.Headers.ContentType!.MediaType);
        Assert.Equal("nosniff", Assert.Single(response.Headers.GetValues("X-Content-Type-Options")));
        Assert.Equal("default-src 'none'; sandbox", Assert.Single(response.Headers.GetValues("Content-Security-Policy")));
        Assert.Equal(title, svg.Elements().First().Value);
        Assert.Equal(atoms, svg.Descendants().Count(element => element.Attribute("data-atom") is not null));
        Assert.DoesNotContain(svg.DescendantsAndSelf().Attributes(), attribute =>
            attribute.Name.LocalName == "style" || attribute.Name.LocalName.StartsWith("on", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("no-such-compound/structure", HttpStatusCode.NotFound, "no-such-compound")]
    [InlineData("benzaldehyde/structure?kind=dimedone", HttpStatusCode.NotFound, "does not say how")]
    [InlineData("pentane-2-4-dione/structure?kind=phenylhydrazone", HttpStatusCode.NotFound, "may close a ring")]
    [InlineData("1-phenylpropane-1-2-dione/structure?kind=oxime&carbonylsCondensed=1", HttpStatusCode.NotFound, "differ")]
    [InlineData("propanone/structure?kind=oxime&carbonylsCondensed=2", HttpStatusCode.NotFound, "the parent has 1")]
    [InlineData("propanone/structure?kind=picrate", HttpStatusCode.BadRequest, "picrate")]
    [InlineData("propanone/structure?carbonylsCondensed=1", HttpStatusCode.BadRequest, "without a kind")]
    [InlineData("propanone/structure?kind=oxime&carbonylsCondensed=11", HttpStatusCode.BadRequest, "11")]
    [InlineData("propanone/structure?size=2", HttpStatusCode.BadRequest, "size")]
    public async Task WhatCannotBeDrawnIsRefusedWithTheReason(string address, HttpStatusCode status, string said)
    {
        using var response = await service.Client.GetAsync("/api/v1/parents/" + address, TestContext.Current.CancellationToken);
        var problem = await response.JsonAsync(status);

        Assert.Contains(said, problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task AnInstructorHasAnyStructureDrawnByItsNameOrNotation()
    {
        using var client = await service.Service.ClientAsAsync(Role.Instructor);

        Assert.Equal("CC#N", await TitleAsync(client, "?smiles=CC%23N"));
        Assert.Equal("a <name>", await TitleAsync(client, "?smiles=CC%23N&name=a%20%3Cname%3E"));
    }

    [Theory]
    [InlineData("", "?smiles: Missing; it is needed here.")]
    [InlineData("?smiles=", "empty")]
    [InlineData("?smiles=C1CC", "Ring closure 1 is not closed")]
    [InlineData("?smiles=C&smiles=C", "more than once")]
    [InlineData("?smiles=C&colour=red", "colour")]
    public async Task AStructureThatIsNotReadIsRefusedByFieldValueAndRule(string query, string said)
    {
        using var client = await service.Service.ClientAsAsync(Role.Instructor);
        using var response = await client.GetAsync(Drawing + query, TestContext.Current.CancellationToken);
        var problem = await response.JsonAsync(HttpStatusCode.BadRequest);

        Assert.Contains(said, problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task AHundredAtomsAreDrawnAndNotOneMore()
    {
        using var client = await service.Service.ClientAsAsync(Role.Instructor);
        using var most = await client.GetAsync(
            $"{Drawing}?smiles={new string('C', 100)}", TestContext.Current.CancellationToken);
        using var tooMany = await client.GetAsync(
            $"{Drawing}?smiles={new string('C', 101)}", TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.OK, most.StatusCode);
        var problem = await tooMany.JsonAsync(HttpStatusCode.BadRequest);
        Assert.Contains("101 atoms; at most 100", problem.GetProperty("detail").GetString(), StringComparison.Ordinal);
    }

    private static async Task<string> TitleAsync(HttpClient client, string query)
    {
        var svg = await client.GetStringAsync(Drawing + query, TestContext.Current.CancellationToken);
        return XElement.Parse(svg).Elements().First().Value;
    }
}
