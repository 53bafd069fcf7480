using Derivid.Store.Access;
using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Identifications;
using Derivid.Store.Tables;
using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Store.Tests;

/// <summary>The store as one process has it, on an engine of a test.</summary>
internal sealed class StoreUnderTest : IAsyncDisposable
{
    public static readonly DateTime Now = new(2026, 3, 14, 9, 26, 53, DateTimeKind.Utc);

    private readonly ServiceProvider _services;

    public StoreUnderTest(DatabaseEngine engine, DateTime? now = null)
    {
        _services = new ServiceCollection()
            .AddSingleton<TimeProvider>(new FixedTime(now ?? Now))
            .AddDerividStore(engine)
            .BuildServiceProvider();
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

    public ValueTask DisposeAsync() => _services.DisposeAsync();

    // Only what o'clock it is stands still; elapsed time goes on.
    private sealed class FixedTime(DateTime now) : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => now;
    }
}
