using Derivid.Testing;

namespace Derivid.Page.Tests;

/// <summary>A service at whose institution a member of its staff is signed in.</summary>
public sealed class InstitutionPage : IAsyncLifetime
{
    private readonly PostgreSqlServer _server;
    private readonly bool _announcesEnd;
    private Institution? _institution;
    private PostgreSqlDatabase? _database;
    private PageUnderTest? _service;

    public InstitutionPage(PostgreSqlServer server)
        : this(server, announcesEnd: false)
    {
    }

    /// <summary>One of a test's own.</summary>
    /// <param name="server">Has its database.</param>
    /// <param name="announcesEnd">Whether the institution says where its sessions end.</param>
    internal InstitutionPage(PostgreSqlServer server, bool announcesEnd) => (_server, _announcesEnd) = (server, announcesEnd);

    /// <summary>The institution.</summary>
    public Institution Institution => _institution!;

    /// <summary>The service.</summary>
    public PageUnderTest Service => _service!;

    public async ValueTask InitializeAsync()
    {
        _institution = await Institution.StartAsync("staff", _announcesEnd);
        _database = await _server.NewDatabaseAsync();
        _service = await PageUnderTest.StartAsync(_database.ConnectionString, 0, _institution.Settings());
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

        if (_institution is not null)
        {
            await _institution.DisposeAsync();
        }
    }
}
