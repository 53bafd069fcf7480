using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Core.SpotTests;

namespace Derivid.Cli.Tests;

/// <summary>The typed client against the service.</summary>
public sealed class ClientTests(ServiceUnderTest service) : IDisposable
{
    private readonly DerividClient _client = DerividClient.Connect(service.Address);

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _client.Dispose();

    [Fact]
    public async Task ListsGoOnToTheirLastPage()
    {
        var version = await _client.Table.GetVersionAsync(1, Token);
        var derivatives = await _client.Table.ListDerivativesAsync(cancellationToken: Token).ToListAsync(Token);
        var parents = await _client.Table.ListParentsAsync(cancellationToken: Token).ToListAsync(Token);

        Assert.True(version.Derivatives > 200, "Too few records to need pages.");
        Assert.Equal(version.Derivatives, derivatives.DistinctBy(d => d.Key).Count());
        Assert.Equal(version.Derivatives, derivatives.Count);
        Assert.Equal(version.Parents, parents.DistinctBy(p => p.Key).Count());
    }

    [Fact]
    public async Task FiltersReachTheService()
    {
        var near = await _client.Table.ListDerivativesAsync(
            new() { Kind = "semicarbazone", Near = 187.5, Within = 1, TableVersion = 1 }, Token).ToListAsync(Token);
        var ketones = await _client.Table.ListParentsAsync(
            new() { Q = "propan", Kind = ParentKind.Ketone }, Token).ToListAsync(Token);

        Assert.NotEmpty(near);
        Assert.All(near, d => Assert.True(d.LowCelsius <= 188.5 && d.HighCelsius >= 186.5 && d.KindKey == "semicarbazone"));
        Assert.Contains(ketones, p => p.Key == "propanone");
        Assert.All(ketones, p => Assert.Equal(ParentKind.Ketone, p.Kind));
    }

    [Fact]
    public async Task EveryListAndRowOfTheTableIsRead()
    {
        var versions = await _client.Table.ListVersionsAsync(Token).ToListAsync(Token);
        var kinds = await _client.Table.ListDerivativeKindsAsync(cancellationToken: Token).ToListAsync(Token);
        var tests = await _client.Table.ListSpotTestsAsync(cancellationToken: Token).ToListAsync(Token);
        var colours = await _client.Table.ListColoursAsync(cancellationToken: Token).ToListAsync(Token);
        var standards = await _client.Table.ListStandardsAsync(cancellationToken: Token).ToListAsync(Token);
        var sources = await _client.Table.ListSourcesAsync(cancellationToken: Token).ToListAsync(Token);
        var acetone = await _client.Table.GetParentAsync("acetone", cancellationToken: Token);
        var source = await _client.Table.GetSourceAsync(acetone.Derivatives[0].SourceKey, cancellationToken: Token);

        Assert.Contains(versions, v => v is { Number: 1, ReleasedAt.Year: > 2000 });
        Assert.Contains(kinds, k => k.ReagentMolarMass > 100 && k.Computed.ColourExpectations.Count > 0);
        Assert.Contains(tests, t => t.Computed.Responses.Count > 0 && t.Computed.Question.Text.Length > 0);
        Assert.Contains(colours, c => c.Synonyms.Count > 0);
        Assert.Contains(standards, s => s is { ClearPointCelsius: > 100, Verification: Verification.Read });
        Assert.Contains(source, sources);
        Assert.Equal("propanone", acetone.Parent.Key);
        Assert.Contains(acetone.Constants, c => c is { Property: ParentProperty.BoilingPoint, Computed.Unit: "°C" });
    }

    [Fact]
    public async Task ParentAndDerivativeAreDrawn()
    {
        var parent = await _client.Table.GetStructureAsync("acetone", cancellationToken: Token);
        var derivative = await _client.Table.GetStructureAsync("glyoxal", "oxime", carbonylsCondensed: 2, cancellationToken: Token);
        var refusal = await Assert.ThrowsAsync<DerividException>(
            () => _client.Table.GetStructureAsync("acetone", "dimedone derivative", cancellationToken: Token));

        Assert.Contains("<title>propanone</title>", parent, StringComparison.Ordinal);
        Assert.Contains("<title>glyoxal oxime</title>", derivative, StringComparison.Ordinal);
        Assert.Equal(404, (int)refusal.Status);
    }

    [Fact]
    public async Task StoredIdentificationIsFetchedAndReplayed()
    {
        var observation = new IdentificationRequest
        {
            Derivatives = [new DerivativeObserved { Kind = "2,4-DNPH", MeltingRange = "125-127 °C", Colour = "yellow" }],
            SpotTests = [new SpotTestObserved { Test = "iodoform", Outcome = SpotTestOutcome.Positive }],
        };
        var first = await _client.Identifications.IdentifyAsync(observation, cancellationToken: Token);
        var stored = await _client.Identifications.GetAsync(first.Id, Token);
        var replayed = await _client.Identifications.ReplayAsync(first.Id, Token);
        var again = await _client.Identifications.IdentifyAsync(
            await _client.Identifications.GetObservationAsync(first.Id, Token), cancellationToken: Token);

        Assert.Equivalent(first, stored, strict: true);
        Assert.Equivalent(first, replayed, strict: true);
        Assert.Equal(first.Id, again.Id);
        Assert.NotEmpty(first.Candidates[0].Evidence);
        Assert.NotEmpty(first.NextSteps);
    }

    [Fact]
    public async Task BatchGivesEachItemItsAnswerOrProblem()
    {
        var answer = await _client.Identifications.IdentifyAsync(
            [
                new BatchItem { Reference = "a", Observation = new() { MeltingPoint = "48" } },
                new BatchItem { Observation = new() { WindowCelsius = 1000 } },
            ],
            store: false,
            Token);

        Assert.False(answer.IsStored);
        Assert.Equal("a", answer.Items[0].Reference);
        Assert.NotNull(answer.Items[0].Identification);
        Assert.Contains("/items/1/observation/windowCelsius", answer.Items[1].Problem!.Errors!.Keys);
    }

    [Fact]
    public async Task ProblemIsAnExceptionThatNamesThePlace()
    {
        var refusal = await Assert.ThrowsAsync<DerividException>(() => _client.Identifications.IdentifyAsync(
            new IdentificationRequest { SpotTests = [new() { Test = "tea leaves", Outcome = SpotTestOutcome.Positive }] },
            cancellationToken: Token));

        Assert.Equal("urn:derivid:problem:invalid-request", refusal.Type);
        Assert.Equal(System.Net.HttpStatusCode.BadRequest, refusal.Status);
        Assert.Contains("tea leaves", refusal.Errors["/spotTests/0/test"][0], StringComparison.Ordinal);
        Assert.Equal(refusal.Detail, refusal.Message);
        Assert.NotNull(refusal.Problem.TraceId);
        Assert.Null(refusal.RetryAfter);
    }
}
