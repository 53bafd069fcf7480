using Derivid.Core.Teaching;
using Derivid.Store.Access;
using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Microsoft.Extensions.Logging.Console;

namespace Derivid.Api.Access;

/// <summary>The administrator key a service begins with.</summary>
/// <param name="keys">The keys given out.</param>
/// <param name="settings">May hold a key to begin with.</param>
/// <param name="configuration">Says how the console is written.</param>
/// <param name="time">The clock.</param>
public sealed class FirstKey(ApiKeys keys, AccessSettings settings, IConfiguration configuration, TimeProvider time)
{
    private static readonly TimeSpan Lifetime = TimeSpan.FromDays(365);

    /// <summary>
    /// Makes the key of the settings known; without one, and where there is no key at all, makes one and prints it to
    /// the console, this once; to its error output where the log is JSON, so that each line of the output stays JSON. It isn't logged. Of several processes that start at once, one does it.
    /// </summary>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public async Task MakeAsync(CancellationToken cancellationToken)
    {
        if (settings.AdministratorKey is { Length: > 0 } given)
        {
            var own = KeyOf(KeyText.Parse(given)!, "the key of the setting Access:AdministratorKey", lifetime: null);
            await keys.AddOwnAsync(own, onlyFirst: false, cancellationToken);
            return;
        }

        var text = KeyText.New();
        if (await keys.AddOwnAsync(KeyOf(text, "first administrator key", Lifetime), onlyFirst: true, cancellationToken))
        {
            var console = configuration["Logging:Console:FormatterName"] == ConsoleFormatterNames.Json ? Console.Error : Console.Out;
            await console.WriteLineAsync(
                $"""

                Administrator key, shown this once; keep it like a password. It is good for a year:

                    {text.Reveal()}

                Send it as "Authorization: Bearer <key>". Make further keys with POST /api/v1/keys.

                """);
        }
    }

    private ApiKey KeyOf(KeyText text, string name, TimeSpan? lifetime)
    {
        var now = time.GetUtcNow().UtcDateTime;
        return new ApiKey
        {
            Id = text.Id,
            SecretHash = text.SecretHash(),
            Name = name,
            Role = Role.Administrator,
            CreatedAtUtc = now,
            CreatedBy = AuditOrigin.Service.Actor,
            ExpiresAtUtc = now + lifetime,
        };
    }
}
