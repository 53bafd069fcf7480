using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using CsvHelper;
using Derivid.Core.Compounds;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests;

/// <summary>What was set aside stayed out of the table; the rule is in the README of the literature pairs.</summary>
public sealed class SetAsideTests
{
    private const int BesideARecalledValue = 128;
    private const int Otherwise = 64;

    private static readonly IReadOnlyList<(string ParentKey, string KindKey, string SourceKey, string Locator)> SetAside = Read();

    private static readonly HashSet<(string ParentKey, string KindKey)> WithRecalledValue =
    [
        .. Table.Derivatives
            .Where(derivative => Sources[derivative.SourceKey].HowRead == SourceReading.Memory)
            .Select(derivative => (derivative.ParentKey, derivative.KindKey)),
    ];

    [Fact]
    public void EverySetAsidePairWasDrawn()
    {
        Assert.NotEmpty(SetAside);
        Assert.All(SetAside, value => Assert.True(IsDrawn(value.ParentKey, value.KindKey), value.ToString()));
    }

    [Fact]
    public void NothingNewlyReadIsOfADrawnPair()
    {
        var newlyRead = Table.Derivatives.Where(IsNewlyRead).ToList();

        Assert.NotEmpty(newlyRead);
        Assert.All(newlyRead, derivative => Assert.False(IsDrawn(derivative.ParentKey, derivative.KindKey), derivative.Key));
    }

    [Fact]
    public void NoSetAsideValueIsInTheTable()
    {
        var rows = Table.Derivatives.Select(row => (row.ParentKey, row.KindKey, row.SourceKey, row.Locator ?? "")).ToHashSet();

        Assert.All(SetAside, value => Assert.DoesNotContain(value, rows));
    }

    /// <summary>Rows taken in after the setting aside say the row of the file, or the page's address.</summary>
    private static bool IsNewlyRead(Derivative derivative) => derivative.Locator is { } locator
        && (locator.Contains(" row ", StringComparison.Ordinal) || locator.StartsWith("http", StringComparison.Ordinal));

    private static bool IsDrawn(string parentKey, string kindKey) =>
        SHA256.HashData(Encoding.UTF8.GetBytes($"{parentKey} {kindKey}"))[0]
            < (WithRecalledValue.Contains((parentKey, kindKey)) ? BesideARecalledValue : Otherwise);

    private static List<(string ParentKey, string KindKey, string SourceKey, string Locator)> Read()
    {
        using var reader = new StreamReader(Path.Combine(AppContext.BaseDirectory, "reference-values/literature-pairs/literature-pairs.csv"));
        using var csv = new CsvReader(reader, CultureInfo.InvariantCulture);
        var rows = new List<(string, string, string, string)>();
        csv.Read();
        csv.ReadHeader();
        while (csv.Read())
        {
            rows.Add((csv.GetField("parent_key")!, csv.GetField("kind_key")!, csv.GetField("source_key")!, csv.GetField("locator")!));
        }

        return rows;
    }
}
