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
public sealed class AccessHandler(
    IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logger, UrlEncoder encoder, Callers callers)
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
            return await FindAsync(Request.Headers.Authorization.ToString()) is { } caller
                ? AuthenticateResult.Success(new AuthenticationTicket(caller.ToPrincipal(Name), Name))
                : AuthenticateResult.Fail("The token opens nothing.");
        }
        catch (Exception fault) when (fault is DatabaseUnavailableException or SignInUnavailableException)
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
        DatabaseUnavailableException => new Problem(
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

    private async Task<Caller?> FindAsync(string header)
    {
        if (!header.StartsWith(Bearer, StringComparison.OrdinalIgnoreCase))
        {
            return null;
        }

        var token = header[Bearer.Length..].Trim();
        return token.StartsWith(KeyForm.Prefix, StringComparison.Ordinal)
            ? await callers.ByKeyAsync(token, Context.RequestAborted)
            : await callers.BySignInAsync(Context);
    }
}
