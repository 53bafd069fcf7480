using Microsoft.AspNetCore.Authentication;

namespace Derivid.Api.Access;

/// <summary>Tells the framework where settings of its own for authentication would stand.</summary>
/// <param name="configuration">The host's settings.</param>
internal sealed class FrameworkAuthentication(IConfiguration configuration) : IAuthenticationConfigurationProvider
{
    /// <inheritdoc/>
    public IConfiguration AuthenticationConfiguration => configuration.GetSection("Authentication");
}
