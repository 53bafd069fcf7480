using System.Diagnostics;
using System.Globalization;
using Derivid.Contracts;

namespace Derivid.Hostile.Kills;

/// <summary>The service is killed (SIGKILL) at a random moment of something that it writes, and started again.</summary>
/// <remarks>On a PostgreSQL server with fsync on, and on an SQLite file.</remarks>
[Trait("Database", "PostgreSQL")]
public sealed class KillTests
{
    private const int Seed = 7;

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    public static TheoryData<string, string> Deeds
    {
        get
        {
            var data = new TheoryData<string, string>();
            foreach (var deed in Deed.All.Keys)
            {
                data.Add("SQLite", deed);
                data.Add("PostgreSQL", deed);
            }

            return data;
        }
    }

    [Theory]
    [InlineData("SQLite")]
    [InlineData("PostgreSQL")]
    public async Task OneKillInEachLosesNothing(string engine)
    {
        await using var site = await OpenAsync(engine);
        foreach (var deed in Deed.All.Keys)
        {
            await KilledAsync(site, engine, deed, times: 1);
        }

        await AssertUnharmedAsync(site);
    }

    [Theory(Explicit = true)]
    [MemberData(nameof(Deeds))]
    public async Task TwentyKillsLoseNothing(string engine, string deed)
    {
        await using var site = await OpenAsync(engine);
        await KilledAsync(site, engine, deed, times: 20);
        await AssertUnharmedAsync(site);
    }

    private static Task<Site> OpenAsync(string engine) => engine == "SQLite" ? Site.OnSqliteAsync() : Site.OnPostgreSqlAsync();

    private static async Task KilledAsync(Site site, string engine, string name, int times)
    {
        var random = new Random(Seed);
        var deed = Deed.All[name]();
        var lasts = await UndisturbedAsync(site, deed);
        var (told, done) = (0, 0);
        for (var kill = 0; kill < times; kill++)
        {
            await deed.PrepareAsync(site);
            var moment = lasts * (1.2 * random.NextDouble());
            var doing = deed.DoAsync(site);
            await Task.WhenAny(doing, Task.Delay(moment, Patience));
            if (doing.IsCompleted)
            {
                await doing;
            }

            await site.KillAsync();
            await EndedAsync(doing);
            await site.StartAsync();
            told += deed.IsAcknowledged ? 1 : 0;
            done += await deed.AssertWholeAsync(site) ? 1 : 0;
        }

        TestContext.Current.SendDiagnosticMessage(string.Create(
            CultureInfo.InvariantCulture,
            $"{engine}, {name}: {times} kills within {1.2 * lasts.TotalMilliseconds:0} ms; {told} after it was said to be done, {done} found done, nothing lost, doubled or halved."));
    }

    private static async Task<TimeSpan> UndisturbedAsync(Site site, Deed deed)
    {
        await deed.PrepareAsync(site);
        var clock = Stopwatch.StartNew();
        await deed.DoAsync(site);
        return clock.Elapsed;
    }

    // The kill cuts its connections; anything else that goes wrong is a fault.
    private static async Task EndedAsync(Task doing)
    {
        try
        {
            await doing;
        }
        catch (Exception fault) when (fault is HttpRequestException or IOException or ObjectDisposedException or TaskCanceledException)
        {
        }
    }

    private static async Task AssertUnharmedAsync(Site site)
    {
        var entries = site.As(Who.Administrator).Audit.ListAsync(new AuditQuery { Order = AuditOrder.OldestFirst, Limit = 500 }, Patience);
        var sequence = 0L;
        await foreach (var entry in entries)
        {
            Assert.Equal(++sequence, entry.Sequence);
        }

        TestContext.Current.SendDiagnosticMessage(string.Create(CultureInfo.InvariantCulture, $"{sequence} entries in the audit log, none missing; {site.PeakMegabytes:0} MB at most."));
        await site.AssertUnharmedAsync();
    }
}
