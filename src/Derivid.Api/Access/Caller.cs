using System.Security.Claims;
using Derivid.Api.Http;
using Derivid.Core.Teaching;
using Derivid.Page.Failures;
using Derivid.Store.Auditing;

namespace Derivid.Api.Access;

/// <summary>Who sent a request.</summary>
/// <param name="Actor">As the audit log names them; see <see cref="ActorName"/>.</param>
/// <param name="Role">Their role. Missing: null, signed in at the institution without a role here.</param>
public sealed record Caller(string Actor, Role? Role)
{
    /// <summary>The header that says why something is changed; the audit log keeps it.</summary>
    public const string ReasonHeader = "Derivid-Reason";

    /// <summary>Longest reason kept. Units: characters.</summary>
    public const int LongestReason = 500;

    internal const string ActorClaim = "actor";
    internal const string RoleClaim = "role";

    /// <summary>Public part of the key that was sent. Missing: null, it was a sign-in.</summary>
    public string? KeyId => ActorName.KeyIdOf(Actor);

    /// <summary>Who sent a request.</summary>
    /// <param name="context">The request.</param>
    /// <returns>Missing: null, somebody unknown.</returns>
    public static Caller? Of(HttpContext context) => context.User.FindFirstValue(ActorClaim) is { } actor
        ? new Caller(
            actor,
            Enum.TryParse<Role>(context.User.FindFirstValue(RoleClaim), out var role) ? role : null)
        : null;

    /// <summary>Where a write comes from, for the audit log.</summary>
    /// <param name="context">A request let in by a policy that asks for a role.</param>
    /// <returns>Or the problem of a reason that can't be kept.</returns>
    public static Outcome<AuditOrigin> OriginOf(HttpContext context)
    {
        var caller = Of(context)
            ?? throw new InvalidOperationException("The endpoint lets in anyone, so a write can't be taken down.");
        var reason = context.Request.Headers[ReasonHeader].ToString();
        if (reason.Length > LongestReason || Text.HasControlCharacter(reason))
        {
            return FieldErrors.One(
                ReasonHeader,
                $"{Text.Quoted(reason)} can't be kept; one line of at most {LongestReason} characters is allowed.");
        }

        return new AuditOrigin(caller.Actor, reason.Length > 0 ? reason : null, TraceId.Of(context))
        {
            IsAdministrator = caller.Role == Core.Teaching.Role.Administrator,
        };
    }

    /// <summary>The caller as the framework carries them.</summary>
    /// <param name="scheme">How they proved it.</param>
    internal ClaimsPrincipal ToPrincipal(string scheme)
    {
        var identity = new ClaimsIdentity(scheme, ActorClaim, RoleClaim);
        identity.AddClaim(new Claim(ActorClaim, Actor));
        if (Role is { } role)
        {
            identity.AddClaim(new Claim(RoleClaim, role.ToString()));
        }

        return new ClaimsPrincipal(identity);
    }
}
