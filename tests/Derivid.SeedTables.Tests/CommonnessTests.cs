using Derivid.Core.Compounds;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests;

/// <summary>How common a parent is follows from the evidence kept, by the rule of the seed tables' README.</summary>
public sealed class CommonnessTests
{
    private const int EverydayFrom = 10;
    private const int UsualFrom = 6;

    /// <summary>Source: sixteen compilations and twelve teaching texts, tests/reference-values/commonness/evidence.csv.</summary>
    [Fact]
    public void EveryParentIsJudgedByTheEvidence()
    {
        var evidence = Evidence();

        Assert.Equal(Table.Parents.Select(parent => parent.Key), evidence.Keys);
        Assert.All(Table.Parents, parent =>
        {
            var (compilations, texts) = evidence[parent.Key];
            var points = compilations + texts;
            Assert.Equal(
                points >= EverydayFrom ? Commonness.Everyday : points >= UsualFrom ? Commonness.Usual : Commonness.Rare,
                parent.Commonness);
            Assert.Equal(
                Counted(compilations, "compilation") + (texts > 0 ? ", " + Counted(texts, "teaching text") : ""),
                parent.CommonnessBasis);
        });
    }

    [Theory]
    [InlineData("propanone", Commonness.Everyday)]
    [InlineData("benzaldehyde", Commonness.Everyday)]
    [InlineData("4-phenylbutan-2-one", Commonness.Usual)]
    [InlineData("benzocyclobutenone", Commonness.Rare)]
    public void JudgementIsWhatABenchChemistExpects(string parentKey, Commonness commonness) =>
        Assert.Equal(commonness, Parents[parentKey].Commonness);

    private static string Counted(int count, string noun) => FormattableString.Invariant($"{count} {noun}{(count == 1 ? "" : "s")}");

    private static SortedDictionary<string, (int Compilations, int Texts)> Evidence()
    {
        var lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "reference-values/commonness/evidence.csv"));
        Assert.Equal("parent_key,compilations,teaching_texts,note", lines[0]);
        var rows = lines.Skip(1).Select(line => line.Split(','))
            .ToDictionary(cells => cells[0], cells => (Count(cells[1]), Count(cells[2])));
        return new(rows, StringComparer.Ordinal);
    }

    private static int Count(string list) => list.Split(';', StringSplitOptions.RemoveEmptyEntries).Length;
}
