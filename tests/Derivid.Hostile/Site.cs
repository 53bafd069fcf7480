using System.Net.Http.Headers;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Derivid.Core.Teaching;
using Derivid.Store;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Hostile;

/// <summary>The service in a process of its own on a database of its own, with people who hold keys; it can be killed and started again.</summary>
internal sealed class Site : IAsyncDisposable
{
    /// <summary>The most memory the service may hold. Units: MB.</summary>
    public const double MostMegabytes = 512;

    // What the runtime gives the managed heap in a container of 512 MB: three quarters of it.
    private const string HeapLimit = "0x18000000";

    private static readonly (string Name, string Value)[] NoLimits =
    [
        ("RateLimits:RequestsPerMinute", "0"),
        ("RateLimits:AnonymousRequestsPerMinute", "0"),
        ("RateLimits:BatchItemsPerMinute", "0"),
        ("RateLimits:StoredPerHour", "0"),
        ("RateLimits:RequestsAtOnce", "0"),
    ];

    private readonly ITestDatabase _database;
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("derivid-hostile-");
    private readonly Dictionary<string, string> _keys = new() { [Who.Administrator] = ServiceProcess.AdministratorKey };
    private readonly Dictionary<string, DerividClient> _clients = [];
    private ServiceProcess? _service;
    private bool _isRunning;

    private Site(ITestDatabase database, PostgreSqlCluster? server) => (_database, Server) = (database, server);

    /// <summary>Whether it has the limits it is shipped with; else none.</summary>
    private bool HasLimits { get; init; }

    /// <summary>Who holds a key, and the key.</summary>
    public IReadOnlyDictionary<string, string> Keys => _keys;

    /// <summary>Its database server. Missing: null, it is on SQLite.</summary>
    public PostgreSqlCluster? Server { get; }

    /// <summary>The process that runs, or ran last.</summary>
    public ServiceProcess Service => _service!;

    /// <summary>The most memory any of its processes held. Units: MB.</summary>
    public double PeakMegabytes { get; private set; }

    /// <summary>Everything printed by its processes.</summary>
    public string Output { get; private set; } = "";

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    /// <summary>Opens one on an SQLite file.</summary>
    /// <param name="hasLimits">Whether it has the limits it is shipped with; else none.</param>
    public static Task<Site> OnSqliteAsync(bool hasLimits = false) => OpenAsync(new Site(new SqliteDatabase(), null) { HasLimits = hasLimits });

    /// <summary>Opens one on a PostgreSQL server of its own that keeps fsync on.</summary>
    /// <param name="hasLimits">Whether it has the limits it is shipped with; else none.</param>
    public static async Task<Site> OnPostgreSqlAsync(bool hasLimits = false)
    {
        var cluster = await PostgreSqlCluster.StartNewAsync(durable: true);
        return await OpenAsync(new Site(await PostgreSqlDatabase.CreateAsync(cluster.ConnectionString), cluster) { HasLimits = hasLimits });
    }

    /// <summary>The typed client of somebody; it doesn't try again.</summary>
    /// <param name="who">Somebody of <see cref="Keys"/>.</param>
    public DerividClient As(string who)
    {
        if (!_clients.TryGetValue(who, out var client))
        {
            var http = new HttpClient { BaseAddress = Service.Client.BaseAddress };
            http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", _keys[who]);
            _clients[who] = client = new DerividClient(http);
        }

        return client;
    }

    /// <summary>Gives somebody a key.</summary>
    /// <param name="who">Somebody who has none.</param>
    /// <param name="role">Their role.</param>
    public async Task GiveKeyAsync(string who, Role role)
    {
        var made = await As(Who.Administrator).Keys.CreateAsync(new KeyRequest { Name = who, Role = role }, cancellationToken: Patience);
        _keys.Add(who, made.Key);
    }

    /// <summary>Who somebody is when they call the service.</summary>
    /// <param name="who">Somebody of <see cref="Keys"/>.</param>
    public string ActorOf(string who) => ActorName.OfKey(_keys[who].Substring(KeyForm.Prefix.Length, KeyForm.IdDigits));

    /// <summary>How many identifications are stored.</summary>
    public async Task<int> CountIdentificationsAsync()
    {
        var options = new DbContextOptionsBuilder<DerividContext>();
        _database.NewEngine().Configure(options);
        await using var context = new DerividContext(options.Options, TableLayout.Standard);
        return await context.Identifications.CountAsync(Patience);
    }

    /// <summary>Kills the process.</summary>
    public async Task KillAsync()
    {
        PeakMegabytes = Math.Max(PeakMegabytes, Service.PeakMegabytes);
        await Service.KillAsync();
        Output += Service.Output + "\n";
        await Service.DisposeAsync();
        _isRunning = false;
    }

    /// <summary>Starts a process and waits until it is ready.</summary>
    public async Task StartAsync()
    {
        foreach (var client in _clients.Values)
        {
            client.Dispose();
        }

        _clients.Clear();
        _service = await ServiceProcess.StartAsync(
            _database.ConnectionString,
            _folder.FullName,
            [("DOTNET_GCHeapHardLimit", HeapLimit), ("Access:AdministratorKey", ServiceProcess.AdministratorKey), .. HasLimits ? [] : NoLimits]);
        _isRunning = true;
    }

    /// <summary>Kills it if it still runs, and asserts what holds of every run: memory in bounds, nothing unhandled.</summary>
    public async Task AssertUnharmedAsync()
    {
        if (_isRunning)
        {
            using var ready = await Service.Client.GetAsync("/health/ready", Patience);
            Assert.True(ready.IsSuccessStatusCode, $"{(int)ready.StatusCode} when asked whether it is ready.");
            await KillAsync();
        }

        Assert.DoesNotMatch(Traces.InLog(), Output);
        Assert.InRange(PeakMegabytes, 1, MostMegabytes);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (_isRunning)
        {
            await KillAsync();
        }

        await _database.DisposeAsync();
        if (Server is not null)
        {
            await Server.DisposeAsync();
        }

        _folder.Delete(recursive: true);
    }

    private static async Task<Site> OpenAsync(Site site)
    {
        try
        {
            await site.StartAsync();
            foreach (var (who, role) in Who.WithKeys)
            {
                await site.GiveKeyAsync(who, role);
            }

            return site;
        }
        catch
        {
            await site.DisposeAsync();
            throw;
        }
    }
}

/// <summary>The people of a <see cref="Site"/>.</summary>
internal static class Who
{
    public const string Nobody = "nobody";
    public const string Forger = "forger";
    public const string Stranger = "stranger";
    public const string Ann = "ann";
    public const string Ben = "ben";
    public const string Grader = "grader";
    public const string Instructor = "instructor";
    public const string Reviewer = "reviewer";
    public const string Administrator = "administrator";

    /// <summary>Everybody who may send a request: without a key, with a made-up one, and with one.</summary>
    public static IReadOnlyList<string> All { get; } =
        [Nobody, Forger, Stranger, Ann, Ben, Grader, Instructor, Reviewer, Administrator];

    /// <summary>Those who get a key, and its role; the administrator has one.</summary>
    public static IReadOnlyList<(string Who, Role Role)> WithKeys { get; } =
    [
        (Stranger, Role.Student), (Ann, Role.Student), (Ben, Role.Student), (Grader, Role.Grader),
        (Instructor, Role.Instructor), (Reviewer, Role.Instructor),
    ];
}
