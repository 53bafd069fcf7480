using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authorization;

namespace Derivid.Api.Access;

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
