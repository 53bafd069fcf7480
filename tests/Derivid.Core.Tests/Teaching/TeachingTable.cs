using Derivid.Core.Compounds;
using Derivid.Core.Ranking;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Teaching;

/// <summary>Tables for the teaching tests. Every value here is invented.</summary>
internal static class TeachingTable
{
    public const string Seed = "a seed long enough to be one";

    /// <summary>The secret of a service of the tests.</summary>
    public static byte[] Secret { get; } = [.. Enumerable.Range(1, 32).Select(value => (byte)value)];

    /// <summary>Four ketones and an aldehyde, each of its right kind.</summary>
    public static TableSnapshot Five { get; } = WithKinds(
        ("propanone", "CC(C)=O", [126], [188]),
        ("pinacolone", "CC(=O)C(C)(C)C", [125], [157]),
        ("pentan-3-one", "CCC(=O)CC", [156], [139]),
        ("acetophenone", "CC(=O)c1ccccc1", [240], [199]),
        ("benzaldehyde", "O=Cc1ccccc1", [237], [222]));

    /// <summary>Twenty-four methyl ketones, well apart by two derivatives.</summary>
    public static TableSnapshot Many { get; } = WithKinds(
        [.. Enumerable.Range(0, 24).Select(i => (
            $"ketone-{i:00}", $"CC(=O){new string('C', i + 1)}", new double[] { 60 + (9 * i) }, new double[] { 60 + (9 * (i * 7 % 24)) }))]);

    /// <summary>Twelve methyl ketones well apart and twelve in pairs 3 °C apart, by one derivative.</summary>
    public static TableSnapshot Uneven { get; } = WithKinds(
        [.. Enumerable.Range(0, 24).Select(i => (
            $"ketone-{i:00}",
            $"CC(=O){new string('C', i + 1)}",
            new double[] { i < 12 ? 40 + (12 * i) : 190 + (12 * (i / 2 - 6)) + (3 * (i % 2)) },
            Array.Empty<double>()))]);

    public static IReadOnlyList<string> Shelf(int count) => [.. Many.Parents.Take(count).Select(parent => parent.Key)];

    public static Laboratory Laboratory(int count) =>
        new() { ShelfKeys = Shelf(count), KindKeys = [TestTable.Dnph, TestTable.Semicarbazone] };

    private static TableSnapshot WithKinds(params (string Key, string Smiles, double[] Dnph, double[] Semicarbazone)[] parents)
    {
        var table = TestTable.Table(parents);
        return TableSnapshot.Build(
            table with
            {
                Parents = [.. table.Parents.Select(parent => parent with
                {
                    Kind = parent.Key == "benzaldehyde" ? ParentKind.Aldehyde : ParentKind.Ketone,
                })],
            },
            TestTable.Settings);
    }
}
