using Derivid.Core.Teaching;
using Derivid.Page.Hosting;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.JwtBearer;

namespace Derivid.Api.Access;

/// <summary>Sets up who is let in.</summary>
public static class AccessHosting
{
    /// <summary>Adds keys, the institution's sign-in where one is set, a policy for each role, and rate limits.</summary>
    /// <param name="builder">The application's builder.</param>
    /// <exception cref="InvalidOperationException">A setting contradicts itself.</exception>
    public static void AddAccess(this WebApplicationBuilder builder)
    {
        ArgumentNullException.ThrowIfNull(builder);
        var settings = AccessSettings.Read(builder.Configuration);
        builder.Services.AddSingleton(settings);
        builder.Services.AddRateLimits(RateLimitSettings.Read(builder.Configuration));
        builder.Services.AddSingleton<KeyLookups>();
        builder.Services.AddSingleton<Callers>();
        builder.Services.AddSingleton<FirstKey>();
        AddSchemes(builder.Services, settings.OpenIdConnect);

        var policies = builder.Services.AddAuthorizationBuilder()
            .AddPolicy(Policies.Reader, policy => policy.AddRequirements(new ReaderRequirement(settings)));
        foreach (var role in Enum.GetValues<Role>())
        {
            policies.AddPolicy(
                Policies.NameOf(role),
                policy => policy.RequireRole(Enum.GetValues<Role>().Where(r => r >= role).Select(r => r.ToString())));
        }
    }

    /// <summary>Tells who asks, by key or at the page, then whether they may, and may so often.</summary>
    /// <param name="app">The application.</param>
    public static void UseAccess(this WebApplication app)
    {
        app.UseAddressLimits();
        app.UseAuthentication();
        app.UsePage();
        app.UseSenderLimits();
        app.UseFormLimits();
        app.UseAuthorization();
        app.UseAntiforgery();
        app.UsePageForms();
    }

    // A session of the page opens no endpoint of the interface: those ask this scheme, which reads no cookie.
    private static void AddSchemes(IServiceCollection services, SignInSettings? signIn)
    {
        services.AddAuthenticationCore(options => options.DefaultScheme = AccessHandler.Name);
        services.AddWebEncoders();
        var authentication = new AuthenticationBuilder(services)
            .AddScheme<AuthenticationSchemeOptions, AccessHandler>(AccessHandler.Name, null);
        if (signIn is not null)
        {
            services.AddSingleton<IAuthenticationConfigurationProvider, FrameworkAuthentication>();
            authentication.AddJwtBearer(options => Configure(options, signIn));
        }
    }

    private static void Configure(JwtBearerOptions options, SignInSettings signIn)
    {
        options.Authority = signIn.Authority;
        options.Audience = signIn.Audience;
        options.RequireHttpsMetadata = signIn.RequireHttps;
        options.MapInboundClaims = false;

        // Only asymmetric signatures: with a symmetric one, whoever can check a token could also make one.
        options.TokenValidationParameters.ValidAlgorithms =
            ["RS256", "RS384", "RS512", "PS256", "PS384", "PS512", "ES256", "ES384", "ES512"];
        options.TokenValidationParameters.ClockSkew = TimeSpan.FromMinutes(1);
        options.BackchannelTimeout = TimeSpan.FromSeconds(5);
    }
}

/// <summary>Tells the framework where settings of its own for authentication would stand.</summary>
/// <param name="configuration">The host's settings.</param>
internal sealed class FrameworkAuthentication(IConfiguration configuration) : IAuthenticationConfigurationProvider
{
    /// <inheritdoc/>
    public IConfiguration AuthenticationConfiguration => configuration.GetSection("Authentication");
}
