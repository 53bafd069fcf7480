using System.Globalization;
using System.Net;
using System.Text.Json;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Core.Teaching;
using Derivid.Store.Access;
using Derivid.Store;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;

namespace Derivid.Api.Tests.Access;

/// <summary>Giving out keys, using them and taking them back; the same on both engines.</summary>
public abstract class KeyTests : IAsyncLifetime
{
    private ITestDatabase? _database;
    private ServiceUnderTest? _service;
    private HttpClient? _administrator;

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    private ServiceUnderTest Service => _service!;

    private HttpClient Administrator => _administrator!;

    public async ValueTask InitializeAsync()
    {
        _database = await NewDatabaseAsync();
        _service = new ServiceUnderTest(_database.ConnectionString) { Logged = LogLevel.Trace };
        (await _service.StartAsync()).Dispose();
        _administrator = _service.ClientWith(ServiceUnderTest.AdministratorKey);
    }

    public async ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        _administrator!.Dispose();
        await _service!.DisposeAsync();
        await _database!.DisposeAsync();
    }

    [Theory]
    [InlineData(Role.Student)]
    [InlineData(Role.Grader)]
    [InlineData(Role.Instructor)]
    [InlineData(Role.Administrator)]
    public async Task KeyMadeIsTakenForWhatItIs(Role role)
    {
        var made = await Administrator.MakeKeyAsync(role, "a lab", validDays: 30);
        var key = made.GetProperty("key").GetString()!;
        using var client = Service.ClientWith(key);

        var current = await client.JsonAtAsync(Requests.Keys + "/current");

        var id = made.GetProperty("details").GetProperty("id").GetString()!;
        Assert.Equal($"dvd_{id}_", key[..21]);
        Assert.Equal(85, key.Length);
        Assert.Equal("key:" + id, current.GetProperty("actor").GetString());
        Assert.Equal(Policies.NameOf(role), current.GetProperty("role").GetString());
        var details = current.GetProperty("key");
        Assert.Equal("a lab", details.GetProperty("name").GetString());
        Assert.Equal(ServiceUnderTest.Now.UtcDateTime, details.GetProperty("createdAt").GetDateTime());
        Assert.Equal(ServiceUnderTest.Now.UtcDateTime.AddDays(30), details.GetProperty("expiresAt").GetDateTime());
        Assert.Equal("key:0000000000000000", details.GetProperty("createdBy").GetString());
        Assert.Equal("2026-03-14", details.GetProperty("lastUsedOn").GetString());
    }

    [Fact]
    public async Task SameIdempotencyKeyMakesOneKeyAndTheRepeatIsToldWhichAndHowToGoOn()
    {
        using var first = await SendAsync("grading script");
        using var second = await SendAsync("grading script");
        using var other = await SendAsync("another");

        var made = await first.JsonAsync(HttpStatusCode.Created);
        var id = made.GetProperty("details").GetProperty("id").GetString()!;
        var again = await second.ProblemAsync(ProblemTypes.KeyAlreadyMade);
        Assert.Contains(id, (string)again["detail"]!, StringComparison.Ordinal);
        Assert.Contains("revoke the key and make another", (string)again["detail"]!, StringComparison.Ordinal);
        Assert.DoesNotContain(made.GetProperty("key").GetString()![22..], again.ToJsonString(), StringComparison.Ordinal);
        await other.ProblemAsync(ProblemTypes.IdempotencyKeyReused);
        var listed = await Administrator.JsonAtAsync(Requests.Keys);
        Assert.Equal(["grading script"], listed.GetProperty("items").EnumerateArray()
            .Select(key => key.GetProperty("name").GetString()).Where(name => name is "grading script" or "another"));

        async Task<HttpResponseMessage> SendAsync(string name)
        {
            using var request = new HttpRequestMessage(HttpMethod.Post, Requests.Keys)
            {
                Content = Requests.Json($$"""{ "name": "{{name}}", "role": "grader" }"""),
            };
            request.Headers.Add("Idempotency-Key", "monday");
            return await Administrator.SendAsync(request, Cancellation);
        }
    }

    [Theory]
    [InlineData("GET", false)]
    [InlineData("GET", true)]
    [InlineData("DELETE", false)]
    public async Task WholeKeyInAnAddressIsNotGivenBack(string method, bool inCapitals)
    {
        var key = KeyText.New().Reveal();
        var sent = inCapitals ? key.ToUpperInvariant().Replace("DVD_", "dvd_", StringComparison.Ordinal) : key;
        using var request = new HttpRequestMessage(new HttpMethod(method), $"{Requests.Keys}/{sent}");
        using var response = await Administrator.SendAsync(request, TestContext.Current.CancellationToken);

        var problem = await response.ProblemAsync(ProblemTypes.InvalidRequest);
        Assert.Contains("revoke it", problem.MessageAt("id"), StringComparison.Ordinal);
        Assert.DoesNotContain(key[21..29], problem.ToJsonString(), StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain(Service.Log.Lines, line => line.Contains(key[21..], StringComparison.Ordinal) && line.Contains("problem", StringComparison.Ordinal));
    }

    [Fact]
    public async Task SecretIsShownOnceAndKeptNowhere()
    {
        using var response = await Administrator.PostAsync(Requests.Keys, """{ "name": "script", "role": "grader" }""");
        var made = await response.JsonAsync(HttpStatusCode.Created);
        var key = made.GetProperty("key").GetString()!;
        var secret = key[21..];
        using var client = Service.ClientWith(key);
        await client.JsonAtAsync(Requests.Keys + "/current");

        Assert.Equal("no-store", response.Headers.CacheControl?.ToString());
        Assert.DoesNotContain(secret, (await Administrator.JsonAtAsync(Requests.Keys)).GetRawText(), StringComparison.Ordinal);
        Assert.DoesNotContain(
            secret, (await Administrator.JsonAtAsync(response.Headers.Location!.ToString())).GetRawText(), StringComparison.Ordinal);
        Assert.DoesNotContain(secret, (await Administrator.JsonAtAsync("/api/v1/audit")).GetRawText(), StringComparison.Ordinal);
        Assert.NotEmpty(Service.Log.Lines);
        Assert.DoesNotContain(Service.Log.Lines, line => line.Contains(secret, StringComparison.OrdinalIgnoreCase));
        Assert.DoesNotContain(Service.Log.Lines, line => line.Contains(ServiceUnderTest.AdministratorKey[21..], StringComparison.Ordinal));
        await using var context = await Service.Services.GetRequiredService<IDbContextFactory<DerividContext>>()
            .CreateDbContextAsync(Cancellation);
        var rows = JsonSerializer.Serialize(await context.ApiKeys.ToListAsync(Cancellation));
        Assert.DoesNotContain(Convert.ToBase64String(Convert.FromHexString(secret)), rows, StringComparison.Ordinal);
        Assert.DoesNotContain(secret, rows, StringComparison.Ordinal);
    }

    [Fact]
    public async Task WhateverIsWrongWithAKeyTheAnswerIsTheSame()
    {
        var good = (await Administrator.MakeKeyAsync(Role.Student)).GetProperty("key").GetString()!;
        var revoked = await Administrator.MakeKeyAsync(Role.Student);
        await RevokeAsync(revoked);
        var lastDigit = good[^1] == '0' ? '1' : '0';
        string?[] wrong =
        [
            null, "", "nonsense", "dvd_", good.ToUpperInvariant(), good[..^1], good[..^1] + lastDigit, good + "0",
            "dvd_ffffffffffffffff_" + good[21..], revoked.GetProperty("key").GetString(), await ExpiredAsync(),
            "eyJhbGciOiJub25lIn0.eyJzdWIiOiJ4In0.",
        ];

        var answers = new HashSet<string>();
        foreach (var token in wrong)
        {
            using var client = Service.ClientWith(token);
            using var response = await client.GetAsync(Requests.Keys + "/current", Cancellation);
            var problem = await response.ProblemAsync(ProblemTypes.KeyRequired);
            problem.Remove("traceId");
            Assert.Equal("Bearer realm=\"derivid\"", response.Headers.WwwAuthenticate.ToString());
            answers.Add(problem.ToJsonString());
        }

        Assert.Single(answers);
        using var known = Service.ClientWith(good);
        await known.JsonAtAsync(Requests.Keys + "/current");
    }

    [Fact]
    public async Task RevokedKeyIsRefusedFromTheNextRequestOn()
    {
        var made = await Administrator.MakeKeyAsync(Role.Instructor);
        using var client = Service.ClientWith(made.GetProperty("key").GetString());
        await client.JsonAtAsync(Requests.Keys + "/current");

        await RevokeAsync(made, "left the department");

        using var refused = await client.GetAsync(Requests.Keys + "/current", Cancellation);
        await refused.ProblemAsync(ProblemTypes.KeyRequired);
        using var reading = await client.GetAsync("/api/v1/parents?limit=1", Cancellation);
        await reading.ProblemAsync(ProblemTypes.KeyRequired);
        await RevokeAsync(made);
        var entries = (await Administrator.JsonAtAsync("/api/v1/audit?action=key.revoke")).GetProperty("items");
        var entry = Assert.Single(entries.EnumerateArray());
        Assert.Equal("left the department", entry.GetProperty("reason").GetString());
        Assert.Equal("key:0000000000000000", entry.GetProperty("actor").GetString());
        Assert.Equal("keys/" + IdOf(made), entry.GetProperty("resource").GetString());
    }

    [Fact]
    public async Task KeyCannotRevokeItselfSoAnAdministratorIsAlwaysLeft()
    {
        using var own = await Administrator.DeleteAsync(Requests.Keys + "/0000000000000000", Cancellation);
        await own.ProblemAsync(ProblemTypes.OwnKey);

        var other = await Administrator.MakeKeyAsync(Role.Administrator);
        using var client = Service.ClientWith(other.GetProperty("key").GetString());
        using var byOther = await client.DeleteAsync(Requests.Keys + "/0000000000000000", Cancellation);
        Assert.Equal(HttpStatusCode.NoContent, byOther.StatusCode);
        using var refused = await Administrator.GetAsync(Requests.Keys, Cancellation);
        await refused.ProblemAsync(ProblemTypes.KeyRequired);
    }

    [Fact]
    public async Task OfTwoWhoRevokeEachOtherAtOnceOneIsLeft()
    {
        for (var round = 0; round < 12; round++)
        {
            var (one, other) = (await Administrator.MakeKeyAsync(Role.Administrator), await Administrator.MakeKeyAsync(Role.Administrator));
            using var first = Service.ClientWith(one.GetProperty("key").GetString());
            using var second = Service.ClientWith(other.GetProperty("key").GetString());

            var answers = await Task.WhenAll(
                first.DeleteAsync($"{Requests.Keys}/{IdOf(other)}", Cancellation), second.DeleteAsync($"{Requests.Keys}/{IdOf(one)}", Cancellation));

            using var refused = Assert.Single(answers, answer => answer.StatusCode != HttpStatusCode.NoContent);
            await refused.ProblemAsync(ProblemTypes.KeyRequired);
            using var done = answers.Single(answer => answer != refused);
            await (done == answers[0] ? first : second).JsonAtAsync(Requests.Keys + "/current");
        }
    }

    [Fact]
    public async Task ReasonThatCannotBeKeptIsRefusedAndNothingDone()
    {
        var made = await Administrator.MakeKeyAsync(Role.Student);
        using var request = new HttpRequestMessage(HttpMethod.Delete, $"{Requests.Keys}/{IdOf(made)}");
        request.Headers.Add(Caller.ReasonHeader, new string('x', Caller.LongestReason + 1));

        using var response = await Administrator.SendAsync(request, Cancellation);

        Assert.Contains("500", (await response.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt(Caller.ReasonHeader), StringComparison.Ordinal);
        using var client = Service.ClientWith(made.GetProperty("key").GetString());
        await client.JsonAtAsync(Requests.Keys + "/current");
    }

    [Fact]
    public async Task KeyPastedIntoAnAddressIsNotEchoed()
    {
        var key = (await Administrator.MakeKeyAsync(Role.Student)).GetProperty("key").GetString()!;
        string[] addresses = [$"{Requests.Keys}/{key}", $"/api/v1/parents?q={key}{key}&{key}=1", $"/nowhere/{key}"];
        foreach (var address in addresses)
        {
            using var response = await Administrator.GetAsync(address, Cancellation);

            Assert.DoesNotContain(key[21..30], (await response.AnyProblemAsync()).ToJsonString(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task ListIsPagedAndFiltered()
    {
        var made = new List<string> { "0000000000000000" };
        for (var number = 0; number < 5; number++)
        {
            made.Add(IdOf(await Administrator.MakeKeyAsync(Role.Grader)));
        }

        var found = new List<string>();
        for (string? next = Requests.Keys + "?limit=2"; next is not null;)
        {
            var page = await Administrator.JsonAtAsync(next);
            found.AddRange(page.GetProperty("items").EnumerateArray().Select(key => key.GetProperty("id").GetString()!));
            next = page.TryGetProperty("next", out var link) ? link.GetString() : null;
        }

        Assert.Equal(made.Order(StringComparer.Ordinal), found);
        var graders = (await Administrator.JsonAtAsync(Requests.Keys + "?role=grader&isUsable=true")).GetProperty("items");
        Assert.Equal(5, graders.GetArrayLength());
        var unusable = (await Administrator.JsonAtAsync(Requests.Keys + "?isUsable=false")).GetProperty("items");
        Assert.Equal(0, unusable.GetArrayLength());
    }

    [Fact]
    public async Task CursorMadeUpForTheLogIsRefused()
    {
        var page = await Administrator.JsonAtAsync("/api/v1/audit?limit=1");
        var entries = page.GetProperty("items").GetArrayLength();
        Assert.Equal(1, entries);
        await Administrator.MakeKeyAsync(Role.Student);
        var next = (await Administrator.JsonAtAsync("/api/v1/audit?limit=1")).GetProperty("next").GetString()!;
        var cursor = next[(next.IndexOf("cursor=", StringComparison.Ordinal) + 7)..];
        var plain = Convert.FromBase64String(cursor.Replace('-', '+').Replace('_', '/') + new string('=', (4 - cursor.Length % 4) % 4));
        var forged = Convert.ToBase64String([.. plain[..12], .. "1 OR 1"u8]).TrimEnd('=').Replace('+', '-').Replace('/', '_');

        using var response = await Administrator.GetAsync("/api/v1/audit?limit=1&cursor=" + forged, Cancellation);

        Assert.NotEmpty((await response.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("?cursor"));
    }

    [Fact]
    public async Task LogTellsWhoMadeWhatByWhichRequest()
    {
        using var administrator = await Service.ClientAsAsync(Role.Administrator);
        var actor = (await administrator.JsonAtAsync(Requests.Keys + "/current")).GetProperty("actor").GetString()!;
        using var request = new HttpRequestMessage(HttpMethod.Post, Requests.Keys)
        {
            Content = Requests.Json("""{ "name": "x", "role": "student" }"""),
        };
        request.Headers.Add("traceparent", "00-0123456789abcdef0123456789abcdef-0123456789abcdef-01");
        using var response = await administrator.SendAsync(request, Cancellation);
        var made = await response.JsonAsync(HttpStatusCode.Created);

        var entry = Assert.Single((await Administrator.JsonAtAsync(
            "/api/v1/audit?actor=" + Uri.EscapeDataString(actor))).GetProperty("items").EnumerateArray());

        Assert.Equal("key.create", entry.GetProperty("action").GetString());
        Assert.Equal("keys/" + IdOf(made), entry.GetProperty("resource").GetString());
        Assert.Equal(ServiceUnderTest.Now.UtcDateTime, entry.GetProperty("at").GetDateTime());
        Assert.StartsWith("00-0123456789abcdef0123456789abcdef-", entry.GetProperty("traceId").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task LogIsWholeAndInOrderHoweverManyWriteAtOnce()
    {
        var made = await Task.WhenAll(Enumerable.Range(0, 32).Select(async number =>
        {
            var key = await Administrator.MakeKeyAsync(Role.Student, number.ToString(CultureInfo.InvariantCulture));
            await RevokeAsync(key);
            return IdOf(key);
        }));

        var entries = new List<JsonElement>();
        for (string? next = "/api/v1/audit?order=oldestFirst&limit=7"; next is not null;)
        {
            var page = await Administrator.JsonAtAsync(next);
            entries.AddRange(page.GetProperty("items").EnumerateArray());
            next = page.TryGetProperty("next", out var link) ? link.GetString() : null;
        }

        Assert.Equal(
            Enumerable.Range(1, 1 + 64).Select(n => (long)n), entries.Select(e => e.GetProperty("sequence").GetInt64()));
        Assert.All(made, id => Assert.Equal(
            ["key.create", "key.revoke"],
            entries.Where(e => e.GetProperty("resource").GetString() == "keys/" + id)
                .Select(e => e.GetProperty("action").GetString())));
    }

    protected abstract Task<ITestDatabase> NewDatabaseAsync();

    private static string IdOf(JsonElement made) => made.GetProperty("details").GetProperty("id").GetString()!;

    private async Task RevokeAsync(JsonElement made, string? reason = null)
    {
        using var request = new HttpRequestMessage(HttpMethod.Delete, $"{Requests.Keys}/{IdOf(made)}");
        if (reason is not null)
        {
            request.Headers.Add(Caller.ReasonHeader, reason);
        }

        using var response = await Administrator.SendAsync(request, Cancellation);
        Assert.Equal(HttpStatusCode.NoContent, response.StatusCode);
    }

    // The clock of these tests stands still, so the key's own time has run out from the beginning.
    private async Task<string> ExpiredAsync()
    {
        var text = KeyText.New();
        await Service.Services.GetRequiredService<ApiKeys>().AddAsync(
            new ApiKey
            {
                Id = text.Id,
                SecretHash = text.SecretHash(),
                Name = "expired",
                Role = Role.Administrator,
                CreatedAtUtc = ServiceUnderTest.Now.UtcDateTime.AddDays(-1),
                CreatedBy = "service",
                ExpiresAtUtc = ServiceUnderTest.Now.UtcDateTime,
            },
            null,
            Store.Auditing.AuditOrigin.Service,
            Cancellation);
        return text.Reveal();
    }
}
