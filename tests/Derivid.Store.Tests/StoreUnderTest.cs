using Derivid.Core.Curation;
using Derivid.Store.Access;
using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Identifications;
using Derivid.Store.Seeding;
using Derivid.Store.Tables;
using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Metadata;
using Microsoft.EntityFrameworkCore.Migrations;
using Microsoft.EntityFrameworkCore.Storage;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Store.Tests;

/// <summary>The store as one process has it, on an engine of a test.</summary>
internal sealed class StoreUnderTest : IAsyncDisposable
{
    public static readonly DateTime Now = new(2026, 3, 14, 9, 26, 53, DateTimeKind.Utc);

    private readonly ServiceProvider _services;

    public StoreUnderTest(DatabaseEngine engine, DateTime? now = null, TableLayout? layout = null)
    {
        var services = new ServiceCollection().AddSingleton<TimeProvider>(new FixedTime(now ?? Now));
        if (layout is not null)
        {
            // The framework keeps one model a type of context, and this one has another.
            services.AddSingleton(layout).ConfigureDbContext<DerividContext>(options => options.EnableServiceProviderCaching(false));
        }

        _services = services.AddDerividStore(engine).BuildServiceProvider();
    }

    public DerividDatabase Database => _services.GetRequiredService<DerividDatabase>();

    public ReferenceTables Tables => _services.GetRequiredService<ReferenceTables>();

    public IdentificationArchive Identifications => _services.GetRequiredService<IdentificationArchive>();

    public AuditTrail Audit => _services.GetRequiredService<AuditTrail>();

    public Courses Courses => _services.GetRequiredService<Courses>();

    public HandOuts HandOuts => _services.GetRequiredService<HandOuts>();

    public Reports Reports => _services.GetRequiredService<Reports>();

    public Gradings Gradings => _services.GetRequiredService<Gradings>();

    public ApiKeys Keys => _services.GetRequiredService<ApiKeys>();

    public T Get<T>()
        where T : notnull => _services.GetRequiredService<T>();

    public DerividContext NewContext() =>
        _services.GetRequiredService<IDbContextFactory<DerividContext>>().CreateDbContext();

    public Task<DatabaseStartReport> StartAsync(SeedTable seed) =>
        _services.GetRequiredService<DatabaseStart>().RunAsync(seed, TestContext.Current.CancellationToken);

    public Task<DatabaseStartReport> StartAsync() => StartAsync(SampleTable.Seed);

    public Task<DatabaseStartReport> CheckAsync() =>
        _services.GetRequiredService<DatabaseStart>().CheckAsync(SampleTable.Seed, TestContext.Current.CancellationToken);

    /// <summary>Does to the schema what the next migration would: whatever the layout has that the last one lacks.</summary>
    public async Task AlterSchemaAsync()
    {
        await using var context = NewContext();
        var before = context.GetService<IModelRuntimeInitializer>().Initialize(
            ((IMutableModel)context.GetService<IMigrationsAssembly>().ModelSnapshot!.Model).FinalizeModel());
        var after = context.GetService<IDesignTimeModel>().Model;
        var commands = context.GetService<IMigrationsSqlGenerator>().Generate(
            context.GetService<IMigrationsModelDiffer>().GetDifferences(before.GetRelationalModel(), after.GetRelationalModel()), after);
        Assert.NotEmpty(commands);
        await context.GetService<IMigrationCommandExecutor>().ExecuteNonQueryAsync(
            commands, context.GetService<IRelationalConnection>(), TestContext.Current.CancellationToken);
    }

    public ValueTask DisposeAsync() => _services.DisposeAsync();

    // Only what o'clock it is stands still; elapsed time goes on.
    private sealed class FixedTime(DateTime now) : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => now;
    }
}
