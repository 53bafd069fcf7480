using Derivid.Core.Compounds;
using Derivid.Core.Ranking;
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
        foreach (var one in LiteratureCase.Build(Table).DistinctBy(one => string.Join(';', one.Families)))
        {
            var reduced = ReducedTable.Without(Table, one.Families);
            Assert.DoesNotContain(reduced.Derivatives, record => one.Families.Contains(families[record.SourceKey]));
            Assert.DoesNotContain(reduced.Derivatives, record => record.Verification == Verification.CrossChecked);
            Assert.NotEmpty(reduced.Derivatives);
        }
    }

    [Fact]
    public void ListedCasesAreListedByAnotherFamilyAndUnlistedOnesAreNot()
    {
        var cases = LiteratureCase.Build(Table).Where(one => one.Set != LiteratureSet.Several).ToList();

        Assert.True(cases.Count >= 200);
        Assert.All(cases, one =>
        {
            var isListed = ReducedTable.Without(Table, one.Families).Derivatives.Any(record =>
                record.ParentKey == one.ParentKey && record.KindKey == one.Readings[0].KindKey);
            Assert.Equal(one.Set != LiteratureSet.Unlisted, isListed);
        });
    }

    [Fact]
    public void CompiledFigureThatIsListedAlreadyIsNotCalledIndependent()
    {
        var listed = LiteratureValue.Listed(Table).ToLookup(value => (value.ParentKey, value.KindKey));
        var compiled = LiteratureValue.Load(Table).Where(value => !value.IsMeasured).ToList();

        Assert.All(LiteratureCase.Build(Table).Where(one => one.Set == LiteratureSet.Independent), one =>
        {
            var clear = one.Readings[0].Range!.Value.ClearPointCelsius;
            var key = (one.ParentKey, one.Readings[0].KindKey);
            var isCompiled = compiled.Any(value =>
                (value.ParentKey, value.KindKey) == key && value.HighCelsius == clear && value.Family == one.Families[0]);
            Assert.False(isCompiled && listed[key].Any(other =>
                !other.IsMeasured && other.Family != one.Families[0] && Math.Abs(other.HighCelsius - clear) <= 0.1));
        });
    }

    [Fact]
    public void FamilyCountsOnceForAPairAndForm()
    {
        var cases = LiteratureCase.Build(Table).Where(one => one.Set != LiteratureSet.Several).ToList();

        foreach (var of in cases.GroupBy(one => (one.ParentKey, one.Families[0], one.Readings[0].KindKey)))
        {
            var clears = of.Select(one => one.Readings[0].Range!.Value.ClearPointCelsius).Order().ToList();
            Assert.All(clears.Skip(1).Zip(clears), pair => Assert.True(pair.First - pair.Second > 5));
        }
    }

    [Fact]
    public void TierOfAParentWeighsAsManyTimesTheNextAsAsked()
    {
        var weights = new LiteratureTest(Table, ModelSettingsReader.BuiltIn()).Weights(
            new CommonnessSettings { EverydayWeight = 4, UsualWeight = 2, RareWeight = 1 });

        Assert.Equal(Table.Parents.Count, weights.Count);
        Assert.All(Table.Parents, parent => Assert.Equal(
            parent.Commonness switch { Commonness.Everyday => 4.0, Commonness.Usual => 2, _ => 1 }, weights[parent.Key]));
    }

    [Fact]
    public void HalvesShareNoParent()
    {
        var (fitting, reporting) = ListedPair.Halves(ListedPair.Constants(Table, ParentProperty.MeltingPoint));

        Assert.Empty(fitting.Select(pair => pair.ParentKey).Intersect(reporting.Select(pair => pair.ParentKey)));
        Assert.InRange(fitting.Count / (double)reporting.Count, 0.8, 1.25);
    }

    [Fact]
    public void FamiliesThatWorkedIdentificationsLeaveOutAreThoseOfTheTable() =>
        Assert.Empty(WorkedIdentification.Load()
            .SelectMany(one => one.LeftOutFamily?.Split(';') ?? [])
            .Except(Table.Sources.Select(source => source.Family)));

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
