using Derivid.Testing;

namespace Derivid.Api.Tests;

/// <summary>One service for many tests; each test sends an observation of its own where storing matters.</summary>
public abstract class RunningService : IAsyncLifetime
{
    private ITestDatabase? _database;
    private ServiceUnderTest? _service;
    private HttpClient? _client;

    public HttpClient Client => _client!;

    public ServiceUnderTest Service => _service!;

    public async ValueTask InitializeAsync()
    {
        _database = await NewDatabaseAsync();
        _service = NewService(_database.ConnectionString);
        _client = await _service.StartAsync();
    }

    public async ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        _client?.Dispose();
        if (_service is not null)
        {
            await _service.DisposeAsync();
        }

        if (_database is not null)
        {
            await _database.DisposeAsync();
        }
    }

    protected abstract Task<ITestDatabase> NewDatabaseAsync();

    protected virtual ServiceUnderTest NewService(string connectionString) => new(connectionString);
}
