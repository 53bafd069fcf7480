namespace Derivid.Api.Http;

/// <summary>Tells whoever started the service where to look.</summary>
public static partial class Addresses
{
    /// <summary>Prints each address with its page of the interface, once the service listens.</summary>
    /// <param name="app">The application.</param>
    public static void AnnounceAddresses(this WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
        app.Lifetime.ApplicationStarted.Register(() =>
        {
            foreach (var address in app.Urls)
            {
                Answers(app.Logger, address);
            }
        });
    }

    [LoggerMessage(LogLevel.Information, "Derivid answers at {Address} and describes its interface at {Address}/swagger.")]
    private static partial void Answers(ILogger log, string address);
}
