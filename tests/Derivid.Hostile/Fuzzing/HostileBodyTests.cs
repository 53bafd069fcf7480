using System.Net;
using System.Net.Http.Headers;
using System.Text;

namespace Derivid.Hostile.Fuzzing;

/// <summary>Ten thousand observations that no reading makes valid, each answered as the sender's mistake.</summary>
public sealed class HostileBodyTests
{
    private const int Bodies = 10_000;
    private const int Seed = 20_26;

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task EveryOneIsRefusedAndNothingIsStored()
    {
        await using var site = await Site.OnSqliteAsync();
        using var run = new FuzzRun(site);
        using var valid = Content(Encoding.UTF8.GetBytes(HostileBodies.ValidBody));
        using var identified = await site.Service.Client.PostAsync("/api/v1/identifications?store=false", valid, Patience);
        Assert.Equal(HttpStatusCode.OK, identified.StatusCode);

        var bodies = new HostileBodies(Seed);
        await run.SendAsync(Enumerable.Range(0, Bodies).Select(_ => Attack(bodies.Next())), new Prey());

        TestContext.Current.SendDiagnosticMessage(run.Table());
        run.AssertFaultless();
        Assert.Equal(Bodies, run.Refused);
        Assert.Equal(0, await site.CountIdentificationsAsync());
        await site.AssertUnharmedAsync();
    }

    private static Attack Attack(byte[] body) => new Attack
    {
        Operation = "identify",
        By = Who.Nobody,
        Method = "POST",
        Address = "/api/v1/identifications",
        Headers = [["Content-Type", "application/json"]],
    }.WithBody(body);

    private static ByteArrayContent Content(byte[] body)
    {
        var content = new ByteArrayContent(body);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        return content;
    }
}
