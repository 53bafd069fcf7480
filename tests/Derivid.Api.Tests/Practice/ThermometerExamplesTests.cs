using System.Text.Json.Nodes;
using Derivid.Core.Teaching;
using Derivid.Testing;

namespace Derivid.Api.Tests.Practice;

/// <summary>The examples of thermometers tell of one from its registration on, and the service plays it as told.</summary>
/// <remarks>With DERIVID_RESEAL=1 in the environment the answers are written; the requests are written by hand.</remarks>
public sealed class ThermometerExamplesTests
{
    /// <summary>The operations told.</summary>
    public static IReadOnlyList<string> Operations { get; } =
        ["registerThermometer", "calibrateThermometer", "listThermometers", "getThermometer"];

    [Fact]
    public async Task ServicePlaysThemAsTold()
    {
        var patience = TestContext.Current.CancellationToken;
        await using var database = new SqliteDatabase();
        await using var service = ExampleTable.NewService(database.ConnectionString);
        (await service.StartAsync()).Dispose();
        using var client = await service.ClientAsAsync(Role.Instructor);
        var document = await client.JsonAtAsync("/swagger/v1/swagger.json");
        var id = "";
        foreach (var operation in Operations)
        {
            var (method, path) = ExampleFiles.Find(document, operation);
            using var request = new HttpRequestMessage(new HttpMethod(method), path.Replace("{id}", id, StringComparison.Ordinal));
            if (await ExampleFiles.ReadAsync($"{operation}.request") is { } body)
            {
                request.Content = Requests.Json(body);
            }

            using var response = await client.SendAsync(request, patience);
            var answer = await response.Content.ReadAsStringAsync(patience);
            Assert.True(response.IsSuccessStatusCode, answer);
            id = id.Length > 0 ? id : (string)JsonNode.Parse(answer)!["id"]!;
            var told = ExampleFiles.Indented(answer);
            if (ExampleFiles.IsResealing)
            {
                await ExampleFiles.SealAsync(operation, $"{operation}.reply.json", told);
            }

            Assert.Equal(await ExampleFiles.ReadAsync($"{operation}.reply"), told);
        }
    }
}
