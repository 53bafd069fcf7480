using System.Globalization;
using System.Text.RegularExpressions;

namespace Derivid.Api.Tests.Deployment;

/// <summary>docker-compose.yml, its proxy and the Dockerfile fit each other and the service.</summary>
public sealed partial class ComposeTests(SqliteService service)
{
    private readonly Dictionary<object, object> _services =
        (Dictionary<object, object>)DeployFiles.Yaml("docker-compose.yml")["services"];

    private static string Proxy => DeployFiles.Text("deploy/haproxy.cfg");

    private IEnumerable<string> OfTheImage => _services
        .Where(s => (string)_services.Mapping((string)s.Key)["image"] == "derivid").Select(s => (string)s.Key);

    [Fact]
    public void SettingsNamedAreSettingsOfTheService()
    {
        Assert.Equal(3, OfTheImage.Count());
        Assert.All(OfTheImage, name => Assert.Empty(SettingsAskedFor.Ignored(Variables(name, filledIn: true))));
    }

    [Fact]
    public void SettingMisspeltWouldBeNoticed()
    {
        var variables = new Dictionary<string, string> { ["Access__TrustedProxy"] = "", ["RateLimit__BatchesPerMinute"] = "" };

        Assert.Equal(variables.Keys, SettingsAskedFor.Ignored(variables));
    }

    [Fact]
    public void ProxySharesRequestsOutBetweenTheInstances()
    {
        var instances = OfTheImage.Where(name => name != "migrate").Order(StringComparer.Ordinal).ToList();
        var port = HttpPort().Match(DeployFiles.Text("deploy/Dockerfile")).Groups[1].Value;

        Assert.Equal(2, instances.Count);
        Assert.Equal(instances.Select(name => $"{name}:{port}"), Server().Matches(Proxy).Select(m => m.Groups[1].Value));
    }

    [Fact]
    public async Task ProbesAreAnswered()
    {
        var inside = new Uri((string)((List<object>)_services.Mapping("proxy").Mapping("healthcheck")["test"])[^1]);
        var published = Assert.Single((List<object>)_services.Mapping("proxy")["ports"]);
        var listens = Bind().Match(Proxy).Groups[1].Value;

        Assert.Equal(listens, inside.Port.ToString(CultureInfo.InvariantCulture));
        Assert.EndsWith(":" + listens, (string)published, StringComparison.Ordinal);
        foreach (var path in new[] { inside.AbsolutePath, Check().Match(Proxy).Groups[1].Value })
        {
            Assert.Equal("/health/ready", path);
            using var response = await service.Client.GetAsync(path, TestContext.Current.CancellationToken);
            Assert.True(response.IsSuccessStatusCode);
        }
    }

    [Fact]
    public void NothingIsPublishedBeyondThisMachine()
    {
        var published = _services.Keys.Select(name => (Name: (string)name, Service: _services.Mapping((string)name)))
            .Where(s => s.Service.ContainsKey("ports")).ToList();

        Assert.Equal("proxy", Assert.Single(published).Name);
        Assert.All(
            (List<object>)published[0].Service["ports"],
            port => Assert.StartsWith("127.0.0.1:", (string)port, StringComparison.Ordinal));
    }

    [Fact]
    public void PasswordsAreAskedForAndNoneIsGiven()
    {
        var passwords = _services.Keys.Select(name => (string)name)
            .Where(name => _services.Mapping(name).ContainsKey("environment"))
            .SelectMany(name => Variables(name, filledIn: false))
            .Where(v => v.Key.Contains("PASSWORD", StringComparison.Ordinal)).ToList();
        var asked = passwords.Select(v => Required().Match(v.Value).Groups[1].Value).Distinct().Order(StringComparer.Ordinal);
        var offered = Emptied().Matches(DeployFiles.Text(".env.example")).Select(m => m.Groups[1].Value);

        Assert.Equal(6, passwords.Count);
        Assert.Equal(asked, offered.Order(StringComparer.Ordinal));
    }

    private Dictionary<string, string> Variables(string name, bool filledIn) =>
        _services.Mapping(name).Mapping("environment").ToDictionary(
            v => (string)v.Key,
            v => filledIn ? Variable().Replace((string)v.Value, m => m.Groups["default"].Value) : (string)v.Value);

    [GeneratedRegex(@"\$\{\w+(:-(?<default>[^}]*)|:\?[^}]*)?\}")]
    private static partial Regex Variable();

    [GeneratedRegex(@"^\$\{(\w+):\?[^}]+\}$")]
    private static partial Regex Required();

    [GeneratedRegex(@"^(\w+)=$", RegexOptions.Multiline)]
    private static partial Regex Emptied();

    [GeneratedRegex(@"ASPNETCORE_HTTP_PORTS=(\d+)")]
    private static partial Regex HttpPort();

    [GeneratedRegex(@"^    server \S+ (\S+)$", RegexOptions.Multiline)]
    private static partial Regex Server();

    [GeneratedRegex(@"^    bind :(\d+)$", RegexOptions.Multiline)]
    private static partial Regex Bind();

    [GeneratedRegex(@"^    option httpchk GET (\S+)$", RegexOptions.Multiline)]
    private static partial Regex Check();
}
