using System.Text.Encodings.Web;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Store.Databases;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authorization;
using Microsoft.Extensions.Options;

namespace Derivid.Api.Access;

/// <summary>The one way in: reads the bearer token (RFC 6750) and answers those it turns away.</summary>
/// <param name="options">The framework's.</param>
/// <param name="logger">The framework's.</param>
/// <param name="encoder">The framework's.</param>
/// <param name="callers">Tells who sent a token.</param>
/// <param name="lookups">Tells which keys were met before.</param>
/// <param name="settings">What is answered to anyone, and for how long a check may hold it up.</param>
public sealed class AccessHandler(
    IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logger, UrlEncoder encoder,
    Callers callers, KeyLookups lookups, AccessSettings settings)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    /// <summary>Name of the scheme.</summary>
    public const string Name = "Derivid";

    private const string Bearer = "Bearer ";

    /// <inheritdoc/>
    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        if (Request.Headers.Authorization.Count == 0)
        {
            return AuthenticateResult.NoResult();
        }

        try
        {
            return await FindAsync() is { } caller
                ? AuthenticateResult.Success(new AuthenticationTicket(caller.ToPrincipal(Name), Name))
                : AuthenticateResult.Fail("The token opens nothing.");
        }
        catch (Exception fault) when (fault is DatabaseUnavailableException or TimeoutException or SignInUnavailableException)
        {
            return AuthenticateResult.Fail(fault);
        }
    }

    /// <inheritdoc/>
    protected override async Task HandleChallengeAsync(AuthenticationProperties properties)
    {
        var result = await HandleAuthenticateOnceSafeAsync();
        if (Uncertain(result) is { } problem)
        {
            await problem.ExecuteAsync(Context);
            return;
        }

        Response.Headers.WWWAuthenticate = "Bearer realm=\"derivid\"";
        await new Problem(ProblemTypes.KeyRequired, ProblemTypes.KeyRequired.Example).ExecuteAsync(Context);
    }

    /// <inheritdoc/>
    protected override Task HandleForbiddenAsync(AuthenticationProperties properties)
    {
        var has = Caller.Of(Context)?.Role is { } role ? Policies.NameOf(role) : "none";
        var policies = Context.GetEndpoint()?.Metadata.GetOrderedMetadata<IAuthorizeData>();
        var needed = policies is [.., { Policy: var strictest }] ? strictest : "?";
        return new Problem(
            ProblemTypes.ScopeMissing,
            $"This needs the role {needed}; yours is {has}. Ask an administrator for a key with that role.")
            .ExecuteAsync(Context);
    }

    /// <summary>The problem of a token that could not be checked, which says nothing against it.</summary>
    /// <param name="result">What came of checking it.</param>
    /// <returns>Missing: null, it was checked.</returns>
    internal static Problem? Uncertain(AuthenticateResult? result) => result?.Failure switch
    {
        DatabaseUnavailableException or TimeoutException => new Problem(
            ProblemTypes.StorageUnavailable,
            "Your key can't be checked just now; try again in a few seconds.")
        {
            RetryAfter = TimeSpan.FromSeconds(DatabaseUnavailableException.RetryAfterSeconds),
        },
        SignInUnavailableException => new Problem(
            ProblemTypes.SignInUnavailable, ProblemTypes.SignInUnavailable.Example)
        {
            RetryAfter = TimeSpan.FromSeconds(DatabaseUnavailableException.RetryAfterSeconds),
        },
        _ => null,
    };

    /// <summary>The key that a request carries.</summary>
    /// <param name="request">The request.</param>
    /// <returns>Missing: null, it carries none, or one that isn't of the form of a key.</returns>
    internal static KeyText? KeyOf(HttpRequest request) => TokenOf(request) is { } token ? KeyText.Parse(token) : null;

    // Missing: null, it carries none.
    private static string? TokenOf(HttpRequest request)
    {
        var header = request.Headers.Authorization.ToString();
        return header.StartsWith(Bearer, StringComparison.OrdinalIgnoreCase) ? header[Bearer.Length..].Trim() : null;
    }

    private async Task<Caller?> FindAsync()
    {
        if (KeyOf(Request) is { } key)
        {
            // A key not met waits its turn to be looked up, as long as that takes: made up, it is to be told so.
            return await callers.ByKeyAsync(key, Context.RequestAborted)
                .WaitAsync(lookups.HasMet(key) && IsForAnyone ? Patience : Timeout.InfiniteTimeSpan);
        }

        return TokenOf(Request) is { } token && !token.StartsWith(KeyForm.Prefix, StringComparison.Ordinal)
            ? await callers.BySignInAsync(Context)
            : null;
    }

    private bool IsForAnyone => !settings.RequireKeyToRead && Policies.LeastRoleOf(Context) is null;

    private TimeSpan Patience => TimeSpan.FromMilliseconds(settings.KeyPatienceMilliseconds);
}
