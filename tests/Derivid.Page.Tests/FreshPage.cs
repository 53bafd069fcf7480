using Derivid.Testing;

namespace Derivid.Page.Tests;

/// <summary>The service on a database of its own, with nothing in it yet but the table. Who releases another version of that takes one for themselves.</summary>
public sealed class FreshPage(PostgreSqlServer server) : IAsyncLifetime
{
    private PostgreSqlDatabase? _database;
    private PageUnderTest? _service;

    /// <summary>The service.</summary>
    public PageUnderTest Service => _service!;

    public async ValueTask InitializeAsync()
    {
        _database = await server.NewDatabaseAsync();
        _service = await PageUnderTest.StartAsync(_database.ConnectionString);
    }

    public async ValueTask DisposeAsync()
    {
        if (_service is not null)
        {
            await _service.DisposeAsync();
        }

        if (_database is not null)
        {
            await _database.DisposeAsync();
        }
    }
}
