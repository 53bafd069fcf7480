using System.Globalization;
using Derivid.Api.Http;
using Derivid.Core.Ranking;
using Derivid.Store.Databases;
using Derivid.Store.Seeding;
using Derivid.Store.Tables;

namespace Derivid.Api.Table;

/// <summary>The versions of the table held in memory: the current one, and a few older ones that were asked for.</summary>
/// <remarks>
/// The current version is swapped whole; a request keeps the one it began with. What is held here answers while the
/// database is away. Thread safety: safe.
/// </remarks>
/// <param name="archive">Where the versions are kept.</param>
/// <param name="settings">The model's settings.</param>
/// <param name="seed">The seed tables.</param>
public sealed class TableSnapshots(ReferenceTables archive, ModelSettings settings, SeedTable seed) : IDisposable
{
    private const int OlderHeld = 4;

    private readonly Lock _gate = new();
    private readonly OrderedDictionary<int, ServedTable> _older = [];
    private readonly SemaphoreSlim _refreshing = new(1);
    private readonly SemaphoreSlim _layingOut = new(1);

    // Laid out while the database is still being opened: the first version is nearly always this one, and a start
    // should take less than two seconds.
    private Task<ServedTable>? _seeded = Task.Run(() => new ServedTable(seed.Load().Ordered(), settings));
    private volatile State? _state;

    /// <summary>The current version. Missing: null, none loaded yet.</summary>
    public ServedTable? Current => _state?.Current;

    /// <summary>The released versions, newest first. Shape: empty while none is loaded.</summary>
    public IReadOnlyList<TableVersion> Versions => _state?.Versions ?? [];

    /// <summary>What of the database keeps the first version from being loaded, as a sentence. Missing: null, nothing does.</summary>
    public string? HeldUpBy { get; set; }

    /// <summary>The problem of those who ask before a version is loaded.</summary>
    public Problem NotReady => new(
        ProblemTypes.NotReady,
        HeldUpBy ?? ProblemTypes.NotReady.Example)
    {
        RetryAfter = TimeSpan.FromSeconds(2),
    };

    /// <summary>Looks for a newer version and makes it the current one.</summary>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="DatabaseUnavailableException">The database is away; the version held stays.</exception>
    public async Task RefreshAsync(CancellationToken cancellationToken)
    {
        // One at a time, or one that began earlier could put an older version back.
        await _refreshing.WaitAsync(cancellationToken);
        try
        {
            var versions = await archive.VersionsAsync(cancellationToken);
            if (versions.Count > 0 && versions[0].Number != Current?.Table.Version)
            {
                var current = versions[0].SeedHash == seed.Hash && _seeded is not null
                    ? await _seeded
                    : await LoadAsync(versions[0].Number, cancellationToken);
                _seeded = null;
                _state = new State(current, versions);
            }
        }
        finally
        {
            _refreshing.Release();
        }
    }

    /// <summary>Finds a version.</summary>
    /// <param name="version">Its number. Missing: the current one.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="DatabaseUnavailableException">It is not held, and the database is away.</exception>
    public async Task<Outcome<ServedTable>> FindAsync(int? version, CancellationToken cancellationToken)
    {
        if (_state is not { } state)
        {
            return NotReady;
        }

        if (version is not { } number || number == state.Current.Table.Version)
        {
            return state.Current;
        }

        return state.Versions.Any(v => v.Number == number)
            ? await OlderAsync(number, cancellationToken)
            : new Problem(ProblemTypes.NotFound, string.Create(
                CultureInfo.InvariantCulture,
                $"There is no table version {number}; the versions run from {state.Versions[^1].Number} to {state.Versions[0].Number}."));
    }

    /// <summary>Finds the version that an address names.</summary>
    /// <param name="number">Its number, as the address has it.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="DatabaseUnavailableException">It is not held, and the database is away.</exception>
    public async Task<Outcome<ServedTable>> FindNamedAsync(string number, CancellationToken cancellationToken) =>
        int.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out var version)
            ? await FindAsync(version, cancellationToken)
            : new Problem(ProblemTypes.NotFound, $"{Text.Quoted(number)} is no table version; /api/v1/table-versions lists them.");

    /// <inheritdoc/>
    public void Dispose()
    {
        _refreshing.Dispose();
        _layingOut.Dispose();
    }

    // One at a time, since each takes a processor for as long as dozens of identifications; who left is not waited for.
    private async Task<ServedTable> OlderAsync(int version, CancellationToken cancellationToken)
    {
        if (Held(version) is { } held)
        {
            return held;
        }

        await _layingOut.WaitAsync(cancellationToken);
        try
        {
            if (Held(version) is { } meanwhile)
            {
                return meanwhile;
            }

            var table = await LoadAsync(version, cancellationToken);
            lock (_gate)
            {
                if (_older.Count == OlderHeld)
                {
                    _older.RemoveAt(0);
                }

                _older.Add(version, table);
            }

            return table;
        }
        finally
        {
            _layingOut.Release();
        }
    }

    private ServedTable? Held(int version)
    {
        lock (_gate)
        {
            return _older.GetValueOrDefault(version);
        }
    }

    private async Task<ServedTable> LoadAsync(int version, CancellationToken cancellationToken)
    {
        var table = await archive.LoadAsync(version, cancellationToken)
            ?? throw new InvalidOperationException(
                string.Create(CultureInfo.InvariantCulture, $"Table version {version} is listed but not there."));
        return new ServedTable(table, settings);
    }

    private sealed record State(ServedTable Current, IReadOnlyList<TableVersion> Versions);
}
