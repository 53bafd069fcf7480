using System.Net;
using System.Text.RegularExpressions;
using Derivid.Api.Access;
using Derivid.Core.Teaching;
using Derivid.Testing;
using Microsoft.AspNetCore.Components.Endpoints;
using Microsoft.AspNetCore.Routing;
using Microsoft.AspNetCore.StaticAssets;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests.Access;

/// <summary>Walks every endpoint of the running service as everybody, and compares with the reviewed table.</summary>
public sealed partial class AuthorisationMatrixTests : IAsyncLifetime
{
    private readonly SqliteDatabase _database = new();
    private readonly SqliteDatabase _closedDatabase = new();
    private readonly Dictionary<string, HttpClient> _clients = [];
    private ServiceUnderTest? _open;
    private ServiceUnderTest? _closed;

    public async ValueTask InitializeAsync()
    {
        _open = new ServiceUnderTest(_database.ConnectionString);
        _closed = new ServiceUnderTest(
            _closedDatabase.ConnectionString, null, (AccessSettings.Section + ":RequireKeyToRead", "true"));
        _clients["none"] = await _open.StartAsync();
        _clients["closed"] = await _closed.StartAsync();
        foreach (var role in Enum.GetValues<Role>())
        {
            _clients[Policies.NameOf(role)] = await _open.ClientAsAsync(role);
        }
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var client in _clients.Values)
        {
            client.Dispose();
        }

        await _open!.DisposeAsync();
        await _closed!.DisposeAsync();
        await _database.DisposeAsync();
        await _closedDatabase.DisposeAsync();
    }

    [Fact]
    public async Task EveryEndpointAnswersEverybodyAsTheTableSays()
    {
        var expected = AuthorisationMatrix.Read();
        var faults = new List<string>();
        foreach (var (method, path) in Endpoints())
        {
            var name = $"{method} {path}";
            var found = new List<string>();
            foreach (var asker in AuthorisationMatrix.Askers)
            {
                found.Add(await OutcomeAsync(_clients[asker], method, path));
            }

            var row = expected.GetValueOrDefault(name);
            expected.Remove(name);
            if (row is null)
            {
                faults.Add($"{name} has no row. Decide who may call it; as it stands, the row would be: "
                    + $"{method},{path},{string.Join(',', found)}");
            }
            else if (!row.SequenceEqual(found))
            {
                faults.Add($"{name} answers {string.Join(',', found)}; the table says {string.Join(',', row)}.");
            }
        }

        faults.AddRange(expected.Keys.Select(name => $"{name} has a row, but there is no such endpoint."));
        Assert.True(
            faults.Count == 0,
            $"tests/Derivid.Api.Tests/Access/authorisation-matrix.csv and the service differ:\n{string.Join('\n', faults)}");
    }

    // Views ask the service on behalf of a session and are tried in a browser; the page's files are open to all.
    private IEnumerable<(string Method, string Path)> Endpoints() =>
        from endpoint in _open!.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
        where endpoint.Metadata.GetMetadata<ComponentTypeMetadata>() is null
            && endpoint.Metadata.GetMetadata<StaticAssetDescriptor>() is null
        from method in endpoint.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? ["GET"]
        let path = "/" + endpoint.RoutePattern.RawText!.Trim('/')
        orderby path, method
        select (method, path);

    private static async Task<string> OutcomeAsync(HttpClient client, string method, string path)
    {
        using var request = new HttpRequestMessage(new HttpMethod(method), Parameter().Replace(path, "0"));
        using var response = await client.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.True((int)response.StatusCode < 500, $"{method} {path}: {response.StatusCode}");
        return response.StatusCode switch
        {
            HttpStatusCode.Unauthorized => "401",
            HttpStatusCode.Forbidden => "403",
            _ => "yes",
        };
    }

    [GeneratedRegex(@"\{[^}]*\}")]
    private static partial Regex Parameter();
}
