using System.Text.Json;
using Derivid.Api.Http;

namespace Derivid.Api.Tests.Practice;

public sealed class AltitudeTests(SqliteService service)
{
    // 2000 m are 79.5014 kPa (ISO 2533:1975, table 5).
    [Fact]
    public async Task AltitudeStandsForThePressureThere()
    {
        async Task<JsonElement> KeptAsync(string boiling)
        {
            using var answer = await service.Client.PostAsync(Requests.Identifications, $$"""{ "boilingPoint": { "range": "170", {{boiling}} } }""");
            return await service.Client.JsonAtAsync(answer.Headers.Location!.OriginalString + "/observation");
        }

        Assert.Equal(79.5014, (await KeptAsync("\"altitudeMetres\": 2000")).GetProperty("boilingPoint").GetProperty("pressureKilopascals").GetDouble(), 1e-3);
        using var both = await service.Client.PostAsync(
            Requests.Identifications, """{ "boilingPoint": { "range": "170", "altitudeMetres": 2000, "pressureKilopascals": 80 } }""");
        Assert.Contains("says more", (await both.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/boilingPoint/altitudeMetres"), StringComparison.Ordinal);
    }
}
