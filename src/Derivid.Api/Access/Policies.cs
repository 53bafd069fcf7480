using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authorization;

namespace Derivid.Api.Access;

/// <summary>Who may call an endpoint.</summary>
public static class Policies
{
    /// <summary>Name of the policy of reading and identifying: anyone, or anyone signed in; a setting decides.</summary>
    public const string Reader = "reader";

    /// <summary>Keeps endpoints to holders of a role, or of one further up the ladder.</summary>
    /// <typeparam name="TBuilder">Endpoint or group.</typeparam>
    /// <param name="builder">The endpoint or group.</param>
    /// <param name="role">The lowest role let in.</param>
    public static TBuilder RequireRole<TBuilder>(this TBuilder builder, Role role)
        where TBuilder : IEndpointConventionBuilder =>
        builder.RequireAuthorization(NameOf(role)).ProducesProblems(
            ProblemTypes.KeyRequired, ProblemTypes.ScopeMissing, ProblemTypes.SignInUnavailable);

    /// <summary>The least role that the endpoint of a request asks for.</summary>
    /// <param name="context">A request.</param>
    /// <returns>Missing: null, it asks for none.</returns>
    public static Role? LeastRoleOf(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        var policies = context.GetEndpoint()?.Metadata.OfType<IAuthorizeData>().Select(data => data.Policy).ToHashSet() ?? [];
        return Enum.GetValues<Role>().Where(role => policies.Contains(NameOf(role))).Select(role => (Role?)role).Max();
    }

    /// <summary>Name of a role and of its policy, as settings, wire and documents have it.</summary>
    /// <param name="role">The role.</param>
    public static string NameOf(Role role) => WireJson.Word(role);
}

/// <summary>
/// Lets anyone read, or anyone known; the setting decides. A wrong token is refused even where none is needed, because
/// its sender believes to be somebody; one that can't be checked just now is passed over, so that a lost database
/// doesn't stop identification.
/// </summary>
/// <param name="settings">The setting.</param>
public sealed class ReaderRequirement(AccessSettings settings) : AuthorizationHandler<ReaderRequirement>, IAuthorizationRequirement
{
    /// <inheritdoc/>
    protected override async Task HandleRequirementAsync(
        AuthorizationHandlerContext context, ReaderRequirement requirement)
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(requirement);
        if (context.User.Identity?.IsAuthenticated == true || await IsOpenToAsync(context.Resource as HttpContext))
        {
            context.Succeed(requirement);
        }
    }

    private async Task<bool> IsOpenToAsync(HttpContext? http)
    {
        if (settings.RequireKeyToRead || http is null)
        {
            return false;
        }

        // The framework keeps the result, so nothing is asked a second time.
        var result = await http.AuthenticateAsync(AccessHandler.Name);
        return result.None || AccessHandler.Uncertain(result) is not null;
    }
}
