using System.Net;
using System.Security.Cryptography;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Core.Teaching;
using Derivid.Store;
using Derivid.Testing;
using Microsoft.Extensions.Configuration;
using Microsoft.IdentityModel.Tokens;

namespace Derivid.Api.Tests.Access;

/// <summary>Signing in at an institution whose OpenID Connect server really runs.</summary>
public sealed class SignInTests(ServiceWithSignIn shared) : IClassFixture<ServiceWithSignIn>
{
    private readonly Institution _institution = shared.Institution;
    private readonly ServiceUnderTest _service = shared.Service;

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("student", "learner")]
    [InlineData("instructor", "staff")]
    [InlineData("instructor", "learner", "staff", "somebody else")]
    [InlineData("administrator", "staff", "lab-admin")]
    public async Task TokenOfTheInstitutionOpensWhatItsHighestRoleOpens(string role, params string[] theirRoles)
    {
        using var client = _service.ClientWith(await _institution.TokenAsync("u4711", theirRoles));

        var current = await client.JsonAtAsync(Requests.Keys + "/current");

        Assert.Equal(role, current.GetProperty("role").GetString());
        Assert.Equal($"sign-in:u4711 {_institution.Authority}", current.GetProperty("actor").GetString());
        Assert.False(current.TryGetProperty("key", out _));
        using var keys = await client.GetAsync(Requests.Keys, Cancellation);
        Assert.Equal(role == "administrator" ? HttpStatusCode.OK : HttpStatusCode.Forbidden, keys.StatusCode);
    }

    [Fact]
    public async Task WhoeverHasNoRoleHereIsToldSoAndMayRead()
    {
        using var client = _service.ClientWith(await _institution.TokenAsync("visitor", "visitor"));

        using var current = await client.GetAsync(Requests.Keys + "/current", Cancellation);
        var problem = await current.ProblemAsync(ProblemTypes.ScopeMissing);

        Assert.Contains("student; yours is none", (string)problem["detail"]!, StringComparison.Ordinal);
        await client.JsonAtAsync("/api/v1/parents?limit=1");
    }

    [Fact]
    public async Task WriteIsTakenDownUnderSubjectAndIssuer()
    {
        using var client = _service.ClientWith(await _institution.TokenAsync("u4711", "lab-admin"));

        var made = await client.MakeKeyAsync(Role.Student);

        var entry = (await client.JsonAtAsync("/api/v1/audit?limit=1")).GetProperty("items")[0];
        Assert.Equal($"sign-in:u4711 {_institution.Authority}", entry.GetProperty("actor").GetString());
        Assert.Equal(
            entry.GetProperty("actor").GetString(), made.GetProperty("details").GetProperty("createdBy").GetString());
    }

    [Fact]
    public async Task TokenMadeByHandIsTakenIfNothingIsWrongWithIt()
    {
        using var client = _service.ClientWith(_institution.TokenByHand());

        var current = await client.JsonAtAsync(Requests.Keys + "/current");

        Assert.Equal("instructor", current.GetProperty("role").GetString());
    }

    public static TheoryData<string> Faults =>
        ["expired", "not yet", "audience", "issuer", "other key", "public key as secret", "unsigned", "nobody", "for ever"];

    [Theory]
    [MemberData(nameof(Faults))]
    public async Task TokenWithAnythingWrongOpensNothing(string fault)
    {
        using var other = RSA.Create(2048);
        using var client = _service.ClientWith(_institution.TokenByHand(token => Spoil(token, fault, other, _institution)));

        using var current = await client.GetAsync(Requests.Keys + "/current", Cancellation);
        using var reading = await client.GetAsync("/api/v1/parents", Cancellation);

        var detail = (string)(await current.ProblemAsync(ProblemTypes.KeyRequired))["detail"]!;
        Assert.Equal(ProblemTypes.KeyRequired.Example, detail);
        Assert.Equal("Bearer realm=\"derivid\"", current.Headers.WwwAuthenticate.ToString());
        await reading.ProblemAsync(ProblemTypes.KeyRequired);
    }

    [Fact]
    public async Task TokenReachesNoLog()
    {
        var token = await _institution.TokenAsync("u4711", "staff");
        using var good = _service.ClientWith(token);
        using var bad = _service.ClientWith(token[..^4] + "AAAA");

        await good.JsonAtAsync(Requests.Keys + "/current");
        using var refused = await bad.GetAsync(Requests.Keys + "/current", Cancellation);

        await refused.ProblemAsync(ProblemTypes.KeyRequired);
        var signature = token[(token.LastIndexOf('.') + 1)..^4];
        Assert.NotEmpty(_service.Log.Lines);
        Assert.DoesNotContain(_service.Log.Lines, line => line.Contains(signature, StringComparison.Ordinal));
    }

    [Fact]
    public async Task InstitutionThatIsAwayStopsItsTokensButNeitherKeysNorReading()
    {
        await using var database = new SqliteDatabase();
        var gone = await Institution.StartAsync();
        var token = await gone.TokenAsync("u4711", "staff");
        await gone.DisposeAsync();
        await using var service = new ServiceUnderTest(database.ConnectionString, null, ServiceWithSignIn.Settings(gone.Authority));
        (await service.StartAsync()).Dispose();
        using var client = service.ClientWith(token);
        using var withKey = service.ClientWith(ServiceUnderTest.AdministratorKey);

        using var current = await client.GetAsync(Requests.Keys + "/current", Cancellation);

        await current.ProblemAsync(ProblemTypes.SignInUnavailable);
        Assert.NotNull(current.Headers.RetryAfter?.Delta);
        await client.IdentifiedAsync(Requests.Propanone);
        await withKey.JsonAtAsync(Requests.Keys + "/current");
    }

    [Theory]
    [InlineData("Authority", "institution.example")]
    [InlineData("Authority", "http://institution.example")]
    [InlineData("Audience", "")]
    [InlineData("Roles", "none")]
    public void SettingsThatCannotWorkStopTheStart(string name, string value)
    {
        Dictionary<string, string?> settings = new()
        {
            ["Access:OpenIdConnect:Authority"] = "https://institution.example",
            ["Access:OpenIdConnect:Audience"] = "derivid",
            ["Access:OpenIdConnect:Roles:staff"] = "instructor",
        };
        Read(settings);
        _ = name == "Roles"
            ? settings.Remove("Access:OpenIdConnect:Roles:staff")
            : (settings["Access:OpenIdConnect:" + name] = value) is null;

        var refusal = Assert.Throws<SettingException>(() => Read(settings));

        Assert.Contains("Access:OpenIdConnect:" + name, refusal.Message, StringComparison.Ordinal);
    }

    private static AccessSettings Read(Dictionary<string, string?> settings) => AccessSettings.Read(
        new ConfigurationBuilder().AddInMemoryCollection(settings).Build());

    private static void Spoil(SecurityTokenDescriptor token, string fault, RSA other, Institution institution)
    {
        switch (fault)
        {
            case "expired":
                token.NotBefore = token.IssuedAt = DateTime.UtcNow.AddHours(-2);
                token.Expires = DateTime.UtcNow.AddMinutes(-2);
                break;
            case "not yet":
                token.NotBefore = DateTime.UtcNow.AddMinutes(3);
                break;
            case "audience":
                token.Audience = "another service";
                break;
            case "issuer":
                token.Issuer = "https://elsewhere.example/";
                break;
            case "other key":
                token.SigningCredentials = Institution.Signing(other);
                break;
            case "public key as secret":
                token.SigningCredentials = institution.SigningWithWhatIsPublic();
                break;
            case "unsigned":
                token.SigningCredentials = null;
                break;
            case "nobody":
                token.Claims.Remove("sub");
                break;
            case "for ever":
                token.Expires = null;
                break;
        }
    }
}
