using Derivid.Core.Compounds;
using Derivid.Store.Seeding;
using Derivid.Validation.Literature;

namespace Derivid.Validation.Tests;

public sealed class LiteratureTests
{
    private static readonly ReferenceTable Table = SeedTables.Load();

    /// <summary>
    /// Misses that are known and kept: 104 °C for pentanal lies 2 and 3 °C below two of the values listed for it and 6 °C
    /// above the third, while other compounds are listed at 104 °C itself.
    /// </summary>
    private static readonly string[] KnownMisses = ["notes-pentanal"];

    [Fact]
    public void NothingOfTheFamilyLeftOutStaysInTheTable()
    {
        var families = Table.Sources.ToDictionary(source => source.Key, source => source.Family);
        var cases = CrossSourceTest.Cases(Table);

        Assert.True(cases.Count >= 30);
        foreach (var family in cases.Select(one => one.Family).Distinct())
        {
            var reduced = CrossSourceTest.Without(Table, family);
            Assert.DoesNotContain(reduced.Derivatives, record => families[record.SourceKey] == family);
            Assert.DoesNotContain(reduced.Derivatives, record => record.Verification == Verification.CrossChecked);
            Assert.NotEmpty(reduced.Derivatives);
        }
    }

    [Fact]
    public void EveryCaseIsListedByAnotherFamilyToo()
    {
        foreach (var one in CrossSourceTest.OneKindEach(CrossSourceTest.Cases(Table)))
        {
            var reduced = CrossSourceTest.Without(Table, one.Family);
            Assert.Contains(reduced.Derivatives, record =>
                record.ParentKey == one.ParentKey && record.KindKey == one.Readings[0].KindKey);
        }
    }

    [Fact]
    public void HalvesShareNoParent()
    {
        var (fitting, reporting) = ListedPair.Halves(ListedPair.Constants(Table, ParentProperty.MeltingPoint));

        Assert.Empty(fitting.Select(pair => pair.ParentKey).Intersect(reporting.Select(pair => pair.ParentKey)));
        Assert.InRange(fitting.Count / (double)reporting.Count, 0.8, 1.25);
    }

    [Fact]
    public void WorkedIdentificationsWithoutAClashComeFirstOrInTheLeadingGroup()
    {
        var results = WorkedResult.Run(Table, ModelSettingsReader.BuiltIn(), WorkedIdentification.Load());
        // A clash is a case with no independent value within 3 °C, the table's own tolerance for "cross-checked".
        var plain = results.Where(result => !result.Case.Note.Contains("clash", StringComparison.Ordinal)).ToList();

        Assert.True(plain.Count >= 35);
        Assert.Equal(KnownMisses, plain.Where(result => !result.IsInLeadingGroup).Select(result => result.Case.Key));
    }
}
