using Derivid.Core.Teaching;
using Derivid.Store.Access;
using Derivid.Store.Databases;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.JwtBearer;
using Microsoft.Extensions.Options;
using Microsoft.IdentityModel.JsonWebTokens;

namespace Derivid.Api.Access;

/// <summary>Tells who sent a request from the bearer token it carries: one of our keys, or the institution's.</summary>
/// <param name="keys">The keys given out.</param>
/// <param name="lookups">Looks them up.</param>
/// <param name="settings">Whose tokens are taken.</param>
/// <param name="options">Settings of the framework's check of their tokens.</param>
/// <param name="time">The clock.</param>
/// <param name="log">Takes what went wrong; never a token.</param>
public sealed partial class Callers(
    ApiKeys keys,
    KeyLookups lookups,
    AccessSettings settings,
    IOptionsMonitor<JwtBearerOptions> options,
    TimeProvider time,
    ILogger<Callers> log)
{
    private static readonly byte[] NoHash = new byte[32];

    /// <summary>Tells who holds a key.</summary>
    /// <param name="sent">The key.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>Missing: null, it opens nothing: unknown, wrong, expired or revoked.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be asked just now.</exception>
    public async Task<Caller?> ByKeyAsync(KeyText sent, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(sent);
        var known = await lookups.FindAsync(sent, cancellationToken);
        var matches = sent.Matches(known?.SecretHash ?? NoHash);
        var opens = known is not null && matches && known.IsUsable(time.GetUtcNow().UtcDateTime);
        lookups.Note(sent, opens);
        if (known is null || !opens)
        {
            return null;
        }

        await NoteUseAsync(known, cancellationToken);
        return new Caller(ActorName.OfKey(known.Id), known.Role);
    }

    /// <summary>Tells who signed in at the institution.</summary>
    /// <param name="context">The request, with the institution's token.</param>
    /// <returns>Missing: null, the token isn't valid here, or none is taken.</returns>
    /// <exception cref="SignInUnavailableException">The institution can't be asked for its signing keys just now.</exception>
    public async Task<Caller?> BySignInAsync(HttpContext context)
    {
        if (settings.OpenIdConnect is not { } signIn)
        {
            return null;
        }

        await LearnSigningKeysAsync(context.RequestAborted);
        var token = (await context.AuthenticateAsync(JwtBearerDefaults.AuthenticationScheme)).Principal;
        var subject = token?.FindFirst(JwtRegisteredClaimNames.Sub);
        if (token is null || subject is null)
        {
            return null;
        }

        var roles = token.FindAll(signIn.RoleClaim)
            .Select(claim => signIn.Roles.TryGetValue(claim.Value, out var role) ? role : (Role?)null);
        return new Caller(ActorName.OfSignIn(subject.Value, subject.Issuer), roles.Max());
    }

    // The framework would call a token wrong whose signing key it could not ask for. What was learnt is kept for hours.
    private async Task LearnSigningKeysAsync(CancellationToken cancellationToken)
    {
        var issuer = options.Get(JwtBearerDefaults.AuthenticationScheme).ConfigurationManager!;
        try
        {
            await issuer.GetConfigurationAsync(cancellationToken);
        }
        catch (Exception fault) when (fault is InvalidOperationException or HttpRequestException or IOException)
        {
            SignInAway(log, fault.GetBaseException().Message);
            throw new SignInUnavailableException(fault);
        }
    }

    // The day of last use is a convenience; nobody is turned away for it.
    private async Task NoteUseAsync(ApiKey key, CancellationToken cancellationToken)
    {
        try
        {
            await keys.NoteUseAsync(key, cancellationToken);
        }
        catch (DatabaseUnavailableException fault)
        {
            UseNotNoted(log, key.Id, fault.InnerException?.Message ?? fault.Message);
        }
    }

    [LoggerMessage(LogLevel.Warning, "The institution's sign-in is away: {Reason}")]
    private static partial void SignInAway(ILogger log, string reason);

    [LoggerMessage(LogLevel.Warning, "The use of key {Id} could not be noted: {Reason}")]
    private static partial void UseNotNoted(ILogger log, string id, string reason);
}

/// <summary>The institution's sign-in can't be asked for its signing keys just now; the same token may do later.</summary>
/// <param name="cause">What went wrong.</param>
public sealed class SignInUnavailableException(Exception cause)
    : Exception("The institution's sign-in can't be reached just now.", cause);
