using System.Security.Cryptography;
using System.Xml.Linq;
using Derivid.Api.Table;
using Derivid.Store.Access;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.DataProtection.KeyManagement;
using Microsoft.AspNetCore.DataProtection.Repositories;
using Microsoft.Extensions.Options;

namespace Derivid.Api.Access;

/// <summary>Sets up what protects the page's sessions and forms: keys in the database, so that any instance reads what another wrote.</summary>
public static class Protection
{
    /// <summary>Adds it.</summary>
    /// <param name="builder">The application's builder.</param>
    public static void AddProtection(this WebApplicationBuilder builder)
    {
        ArgumentNullException.ThrowIfNull(builder);
        var services = builder.Services;
        services.AddDataProtection().SetApplicationName("Derivid");

        // The framework's own start reads the keys before there are tables; ours waits for them.
        var start = services.Single(service => service.ServiceType == typeof(IHostedService)
            && service.ImplementationType?.Namespace == "Microsoft.AspNetCore.DataProtection.Internal");
        services.Remove(start);
        services.AddHostedService<ProtectionStart>();
        services.AddSingleton<IConfigureOptions<KeyManagementOptions>>(provider =>
            new ConfigureOptions<KeyManagementOptions>(options =>
                options.XmlRepository = new StoredKeys(provider.GetRequiredService<ProtectionKeys>(), provider.GetRequiredService<TableSnapshots>())));
    }

    /// <summary>The framework's way to the keys, which knows no waiting.</summary>
    private sealed class StoredKeys(ProtectionKeys keys, TableSnapshots tables) : IXmlRepository
    {
        public IReadOnlyCollection<XElement> GetAllElements() => tables.Current is null
            // Nothing is asked of a database that has not been met yet, so that nobody waits for it.
            ? throw new InvalidOperationException("The keys of sessions can't be read before the service is ready.")
            : [.. keys.AllAsync(CancellationToken.None).GetAwaiter().GetResult().Select(xml => XElement.Parse(xml))];

        public void StoreElement(XElement element, string friendlyName) =>
            keys.AddAsync(friendlyName, element.ToString(SaveOptions.DisableFormatting), CancellationToken.None).GetAwaiter().GetResult();
    }
}

/// <summary>Reads the keys once the database is there, so that forms can be written when it goes away later.</summary>
/// <param name="protection">The framework's protection.</param>
/// <param name="tables">Tells when the database has been read.</param>
/// <param name="time">The clock to wait by.</param>
/// <param name="log">Takes what happened.</param>
public sealed partial class ProtectionStart(
    IDataProtectionProvider protection, TableSnapshots tables, TimeProvider time, ILogger<ProtectionStart> log) : BackgroundService
{
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(200);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (!IsDone())
        {
            await Task.Delay(Pause, time, stoppingToken);
        }
    }

    private bool IsDone()
    {
        if (tables.Current is null)
        {
            return false;
        }

        try
        {
            protection.CreateProtector("start").Protect([]);
            return true;
        }
        catch (CryptographicException fault)
        {
            NotYet(log, fault.GetBaseException().Message);
            return false;
        }
    }

    [LoggerMessage(LogLevel.Warning, "The keys of sessions can't be read yet: {Reason}")]
    private static partial void NotYet(ILogger log, string reason);
}
