using Derivid.Core.Curation;
using Derivid.Store.Access;
using Derivid.Store.Auditing;
using Derivid.Store.Curation;
using Derivid.Store.Idempotency;
using Derivid.Store.Identifications;
using Derivid.Store.Practice;
using Derivid.Store.Tables;
using Derivid.Store.Teaching;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace Derivid.Store.Databases;

/// <summary>Makes the store's services known to a host.</summary>
public static class StoreServices
{
    /// <summary>Adds the store on one engine.</summary>
    /// <param name="services">The host's services.</param>
    /// <param name="engine">The engine, with its connection.</param>
    /// <returns>The same services.</returns>
    public static IServiceCollection AddDerividStore(this IServiceCollection services, DatabaseEngine engine)
    {
        services.TryAddSingleton(TimeProvider.System);
        services.TryAddSingleton(TableLayout.Standard);
        services.AddDbContextFactory<DerividContext>(
            (provider, options) => engine.Configure(options, provider.GetRequiredService<TableLayout>()));
        services.AddSingleton(engine);
        services.AddSingleton<DerividDatabase>();
        services.AddSingleton<DatabaseStart>();
        services.AddSingleton<ResourceIds>();
        services.AddSingleton<ReferenceTables>();
        services.AddSingleton<IdentificationArchive>();
        services.AddSingleton<AuditTrail>();
        services.AddSingleton<Proposals>();
        services.AddSingleton<Releases>();
        services.AddSingleton<PrintedReadings>();
        services.AddSingleton<ImportJobs>();
        services.AddSingleton<Imports>();
        services.AddSingleton<ApiKeys>();
        services.AddSingleton<ProtectionKeys>();
        services.AddSingleton<ServerSecrets>();
        services.AddSingleton<IdempotentWrites>();
        services.AddSingleton<Courses>();
        services.AddSingleton<HandOuts>();
        services.AddSingleton<Reports>();
        services.AddSingleton<Gradings>();
        services.AddSingleton<Moderations>();
        services.AddSingleton<Thermometers>();
        return services;
    }
}
