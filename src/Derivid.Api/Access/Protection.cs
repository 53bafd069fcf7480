using System.Xml.Linq;
using Derivid.Api.Operating;
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
            : [.. Aside(() => keys.AllAsync(CancellationToken.None)).Select(xml => XElement.Parse(xml))];

        public void StoreElement(XElement element, string friendlyName) =>
            Aside(async () =>
            {
                await keys.AddAsync(friendlyName, element.ToString(SaveOptions.DisableFormatting), CancellationToken.None);
                return true;
            });

        // Away from the context of a view that is being written: what goes on there would wait for the view, and the view for it.
        private static T Aside<T>(Func<Task<T>> work) => Task.Run(work).GetAwaiter().GetResult();
    }
}

/// <summary>Reads the keys once the database is there, so that forms can be written when it goes away later.</summary>
/// <param name="protection">The framework's protection.</param>
/// <param name="keys">The keys.</param>
/// <param name="tables">Tells when the database has been read.</param>
/// <param name="time">The clock to wait by.</param>
/// <param name="log">Takes what happened.</param>
public sealed partial class ProtectionStart(
    IDataProtectionProvider protection, ProtectionKeys keys, TableSnapshots tables, TimeProvider time, ILogger<ProtectionStart> log) : BackgroundService
{
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(200);
    private static readonly TimeSpan PauseAfterFault = TimeSpan.FromSeconds(1);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var (told, failed) = (new EachMinute(time), false);
        while (true)
        {
            if (tables.Current is not null)
            {
                if (await IsReadAsync(told, stoppingToken))
                {
                    break;
                }

                failed = true;
            }

            await Task.Delay(failed ? PauseAfterFault : Pause, time, stoppingToken);
        }

        if (failed)
        {
            Read(log);
        }
    }

    private async Task<bool> IsReadAsync(EachMinute told, CancellationToken cancellationToken)
    {
        try
        {
            // Asked here first: the framework writes a stack trace of what it meets on its way to them.
            await keys.AllAsync(cancellationToken);
            protection.CreateProtector("start").Protect([]);
            return true;
        }
        catch (Exception fault) when (!cancellationToken.IsCancellationRequested)
        {
            if (told.Due() is { } count)
            {
                NotYet(log, fault.GetBaseException().Message, count);
            }

            return false;
        }
    }

    [LoggerMessage(LogLevel.Warning, "The keys of sessions can't be read yet, so nobody can sign in: {Reason} (times since this was last said: {Count})")]
    private static partial void NotYet(ILogger log, string reason, int count);

    [LoggerMessage(LogLevel.Information, "The keys of sessions are read now.")]
    private static partial void Read(ILogger log);
}
