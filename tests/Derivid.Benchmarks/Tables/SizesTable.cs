using System.Diagnostics;
using System.Globalization;
using System.Numerics.Tensors;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Derivid.Store.Seeding;

namespace Derivid.Benchmarks.Tables;

/// <summary>What the engine takes over tables of up to a million parents, beside simpler ways to rank and what the machine could do.</summary>
/// <remarks>
/// Every size in a process of its own, so that its memory is its own. Tables larger than the seed table are made up, see
/// <see cref="MadeUpTable"/>. Observations are a 2,4-dinitrophenylhydrazone, its colour and two spot tests, another range each time.
/// </remarks>
internal static class SizesTable
{
    private const string KindKey = "2-4-dinitrophenylhydrazone";
    private const string ColourKey = "yellow";
    private const int RankedOnly = 1_000_000;
    private const int BandwidthDoubles = 1 << 26;

    private static readonly TimeSpan MostOfRow = TimeSpan.FromMinutes(9);
    private static readonly TimeSpan WarmUp = TimeSpan.FromSeconds(1.5);
    private static readonly TimeSpan Measured = TimeSpan.FromSeconds(3);
    private static readonly string[] TestKeys = ["iodoform", "tollens"];

    private static readonly Observation[] Observations =
    [
        .. Enumerable.Range(0, 101).Select(i => new Observation
        {
            Derivatives = [new(KindKey, new MeltingRange(60 + (i * 37 % 101 * 2), 62 + (i * 37 % 101 * 2)), ColourKey: ColourKey)],
            SpotTests = [new(TestKeys[0], SpotTestOutcome.Positive), new(TestKeys[1], SpotTestOutcome.Negative)],
        }),
    ];

    /// <summary>Measures and prints the table.</summary>
    public static async Task RunAsync()
    {
        var seed = SeedTables.Load().Parents.Count;
        var memory = GC.GetGCMemoryInfo().TotalAvailableMemoryBytes;
        Console.WriteLine($"{Environment.ProcessorCount} processors, {memory / 1_000_000_000} GB; medians of {Observations.Length} different observations");
        Console.WriteLine();
        Console.WriteLine("| parents | laid out in s | resident MB | ranking ms | KB | in full ms | KB | scalar loop ms | PostgreSQL ms | bandwidth floor ms |");
        Console.WriteLine("|---|---|---|---|---|---|---|---|---|---|");
        foreach (var parents in (int[])[seed, 2_170, 21_700, 100_000, RankedOnly])
        {
            var start = new ProcessStartInfo("dotnet", [typeof(SizesTable).Assembly.Location, "tables", parents.ToString(CultureInfo.InvariantCulture)]);
            start.Environment["DOTNET_GCHeapHardLimit"] = (memory * 3 / 4).ToString("x", CultureInfo.InvariantCulture);
            using var row = Process.Start(start)!;
            using var late = new CancellationTokenSource(MostOfRow);
            try
            {
                await row.WaitForExitAsync(late.Token);
            }
            catch (OperationCanceledException)
            {
                row.Kill();
            }

            if (row.ExitCode != 0)
            {
                Console.WriteLine($"| {parents} | not within {MostOfRow.TotalMinutes:0} min and three quarters of the memory | | | | | | | | |");
            }
        }
    }

    /// <summary>Measures and prints one row.</summary>
    /// <param name="parents">How many parents.</param>
    public static async Task RowAsync(int parents)
    {
        var table = Table(parents);
        var clock = Stopwatch.StartNew();
        var snapshot = TableSnapshot.Build(table, ModelSettingsReader.BuiltIn());
        var laidOut = clock.Elapsed;
        var engine = new IdentificationEngine(snapshot);
        var isInFull = parents < RankedOnly;
        foreach (var observation in Observations)
        {
            engine.Rank(observation);
            if (isInFull)
            {
                engine.Identify(observation);
            }
        }

        GC.Collect(GC.MaxGeneration, GCCollectionMode.Aggressive, blocking: true, compacting: true);
        var resident = Environment.WorkingSet;
        var ranking = Median(observation => engine.Rank(observation));
        var full = isInFull ? Median(observation => engine.Identify(observation)) : default;
        var loop = new ScalarLoop(snapshot, KindKey, [ColourKey], TestKeys);
        var scalar = Median(loop.Rank);
        await using var postgres = await PostgreSqlRanking.FilledAsync(snapshot, loop, KindKey, Observations[0]);
        var sql = Median(postgres.Rank);
        var floor = TimeSpan.FromSeconds(loop.BytesToRead / BytesPerSecond());
        var told = isInFull ? FormattableString.Invariant($"{full.Took.TotalMilliseconds:0.000} | {full.Kilobytes:0}") : "not tried |";
        Console.WriteLine(FormattableString.Invariant(
            $"| {parents} | {laidOut.TotalSeconds:0.00} | {resident / 1e6:0} | {ranking.Took.TotalMilliseconds:0.000} | {ranking.Kilobytes:0} | {told} | {scalar.Took.TotalMilliseconds:0.000} | {sql.Took.TotalMilliseconds:0.000} | {floor.TotalMilliseconds:0.0000} |"));
    }

    private static ReferenceTable Table(int parents)
    {
        var seed = SeedTables.Load();
        return parents == seed.Parents.Count ? seed : MadeUpTable.Of(seed, parents);
    }

    private static (TimeSpan Took, double Kilobytes) Median<T>(Func<Observation, T> rank)
    {
        for (var (warming, i) = (Stopwatch.StartNew(), 0); warming.Elapsed < WarmUp; i++)
        {
            rank(Observations[i % Observations.Length]);
        }

        var took = new List<TimeSpan>();
        var before = GC.GetAllocatedBytesForCurrentThread();
        var all = Stopwatch.StartNew();
        var asked = 0;
        while (all.Elapsed < Measured || asked < Observations.Length)
        {
            var start = Stopwatch.GetTimestamp();
            rank(Observations[asked++ % Observations.Length]);
            took.Add(Stopwatch.GetElapsedTime(start));
        }

        var bytes = GC.GetAllocatedBytesForCurrentThread() - before;
        took.Sort();
        return (took[took.Count / 2], bytes / 1000.0 / asked);
    }

    // One thread through more than the caches hold, one after the other; the best of some times.
    private static double BytesPerSecond()
    {
        var read = new double[BandwidthDoubles];
        Array.Fill(read, 1);
        var best = TimeSpan.MaxValue;
        for (var i = 0; i < 8; i++)
        {
            var start = Stopwatch.GetTimestamp();
            if (TensorPrimitives.Sum<double>(read) != BandwidthDoubles)
            {
                throw new InvalidOperationException("Not everything was read.");
            }

            var took = Stopwatch.GetElapsedTime(start);
            best = took < best ? took : best;
        }

        return sizeof(double) * (double)BandwidthDoubles / best.TotalSeconds;
    }
}
