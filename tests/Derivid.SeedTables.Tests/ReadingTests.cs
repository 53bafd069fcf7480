using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Practice;
using Derivid.Core.Ranking;
using Derivid.Store.Seeding;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests;

/// <summary>What is known of reading melting ranges: rates, advice and enthalpies of fusion, each with its source.</summary>
public sealed class ReadingTests
{
    [Fact]
    public void EverySourceIsBuiltInAndReadAsTheRowsSay() => Assert.All(Cited(), row =>
    {
        Assert.Equal(Sources[row.SourceKey], Bibliography.Find(row.SourceKey));
        Assert.True(
            row.Verification == Sources[row.SourceKey].HowRead switch
            {
                SourceReading.None => null,
                SourceReading.Memory => Verification.Recalled,
                _ => Verification.Read,
            },
            row.What);
    });

    // Every step that is heated has a rate, every one that begins below the range has how far.
    [Fact]
    public void RatesAreThoseOfTheirStep()
    {
        Assert.All(HeatingRate.All, row => Assert.True(row.Rate is null || (row.Rate.Value.Low > 0 && row.Rate.Value.Low <= row.Rate.Value.High)));
        foreach (var decomposes in new[] { false, true })
        {
            Assert.All(HeatingRate.Of(HeatingStepKind.Melt, decomposes), row => Assert.NotNull(row.Rate));
            Assert.NotEmpty(HeatingRate.Of(HeatingStepKind.Melt, decomposes));
            Assert.All(HeatingRate.Of(HeatingStepKind.Insert, decomposes), row => Assert.True(row.BelowCelsius > 0));
            Assert.NotEmpty(HeatingRate.Of(HeatingStepKind.Insert, decomposes));
        }
    }

    [Fact]
    public void AdviceIsInTheOrderOfTheWorkAndNothingIsSaidTwice()
    {
        Assert.Equal(ReadingAdvice.All.OrderBy(row => row.Topic).ThenBy(row => row.Order), ReadingAdvice.All);
        Assert.Equal(ReadingAdvice.All.Count, ReadingAdvice.All.DistinctBy(row => row.Text).Count());
        Assert.Equal(Enum.GetValues<ReadingTopic>(), ReadingAdvice.All.Select(row => row.Topic).Distinct());
        Assert.Equal(Enum.GetValues<ReadingCase>().Order(), ReadingAdvice.All.Select(row => row.When).Distinct().Order());
    }

    // The same figure as in the table where both print one of a parent: no second truth.
    [Fact]
    public void EnthalpiesAgreeWithThoseOfTheTable()
    {
        Assert.Equal(EnthalpyOfFusion.All.Count, EnthalpyOfFusion.All.DistinctBy(row => row.CasNumber).Count());
        var shared = Table.Constants.Where(row => row.Property == ParentProperty.EnthalpyOfFusion)
            .Select(row => (row.High, Printed: EnthalpyOfFusion.Find(Parents[row.ParentKey].CasNumber)))
            .Where(pair => pair.Printed is not null).ToList();
        Assert.True(shared.Count >= 3);
        Assert.All(shared, pair => Assert.Equal(pair.High, pair.Printed!.JoulesPerMole));
    }

    // Nine of the fourteen standards; the others' have not been read anywhere.
    [Fact]
    public void StandardsHaveAnEnthalpyAndMeltWhereItsSourceSays()
    {
        var known = Table.Standards.Select(row => (Standard: row, Printed: EnthalpyOfFusion.Find(row.CasNumber))).Where(pair => pair.Printed is not null).ToList();
        Assert.Equal(9, known.Count);
        Assert.All(known, pair => Assert.Equal(pair.Standard.ClearPointCelsius, pair.Printed!.MeltingKelvin - 273.15, tolerance: 2.5));
    }

    // Of everything the table lists, with and without a reading: a plan that ends at the clear point, an interval that is one, and all that is cited.
    [Fact]
    public void EverythingListedHasAGuide()
    {
        var snapshot = TableSnapshot.Build(Table, ModelSettingsReader.BuiltIn());
        var guides = 0;
        foreach (var group in Table.Derivatives.GroupBy(row => (row.ParentKey, row.KindKey)))
        {
            var order = new ReadingOrder { Kind = Kinds[group.Key.KindKey], Parent = Parents[group.Key.ParentKey], Read = new MeltingRange(99, 101) };
            AssertWhole(ReadingGuide.Of(order, snapshot), hasNoEnthalpy: true);
            guides++;
        }

        foreach (var parent in Table.Parents)
        {
            AssertWhole(ReadingGuide.Of(new ReadingOrder { Parent = parent, Read = new MeltingRange(20, 21) }, snapshot), hasNoEnthalpy: false);
        }

        foreach (var standard in Table.Standards)
        {
            var guide = ReadingGuide.Of(new ReadingOrder { Standard = standard, Read = new MeltingRange(standard.ClearPointCelsius - 2, standard.ClearPointCelsius - 1) }, snapshot);
            AssertWhole(guide, hasNoEnthalpy: false);
            Assert.NotNull(guide.Purity);
        }

        Assert.True(guides > 200);
    }

    // Camphor takes about 7 kJ/mol to melt, where entropies of other substances would have it at 14 to 40.
    [Theory]
    [InlineData("camphor", 170, 174)]
    [InlineData("1-3-3-trimethylbicyclo-2-2-1-heptan-2-one", 0, 3)]
    public void CagesGetNoBoundFromOrdinaryEntropies(string parent, double onset, double clear)
    {
        var guide = GuideOf(parent, null, onset, clear);

        Assert.Null(guide.Purity);
        Assert.Contains("plastic crystal", guide.PurityMissing, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("benzil", 90, 92)]
    [InlineData("benzophenone", 45, 46)]
    public void WhatIsNoCageKeepsItsEstimate(string parent, double onset, double clear) => Assert.NotNull(GuideOf(parent, null, onset, clear).Purity);

    [Theory]
    [InlineData("semicarbazone", 100, 190, "no melting range")]
    [InlineData("2-4-dinitrophenylhydrazone", 20, 30, "not this compound")]
    [InlineData("2-4-dinitrophenylhydrazone", 140, 142, "above what is listed")]
    public void WhatCannotBeOfPropanoneHasNoPurityButAReason(string kind, double onset, double clear, string said)
    {
        var guide = GuideOf("propanone", kind, onset, clear);

        Assert.Null(guide.Purity);
        Assert.Contains(said, guide.PurityMissing, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(143, 145, 147, "low melting modification")]
    [InlineData(158, 160, 168, "high melting modification")]
    public void OfTwoFormsTheNearestThatMeltsNoLowerIsJudgedBy(double onset, double clear, double pure, string form)
    {
        var guide = GuideOf("acetaldehyde", "2-4-dinitrophenylhydrazone", onset, clear);

        Assert.Equal(2, guide.Forms.Count);
        Assert.Contains("More than one form is listed", guide.ExpectedInWords(), StringComparison.Ordinal);
        Assert.Equal(pure, guide.Purity!.PureCelsius.High);
        Assert.Contains(form, guide.Purity.Sentence, StringComparison.Ordinal);
    }

    private static ReadingGuide GuideOf(string parent, string? kind, double onset, double clear) => ReadingGuide.Of(
        new ReadingOrder { Parent = Parents[parent], Kind = kind is null ? null : Kinds[kind], Read = new MeltingRange(onset, clear) },
        TableSnapshot.Build(Table, ModelSettingsReader.BuiltIn()));

    private static void AssertWhole(ReadingGuide guide, bool hasNoEnthalpy)
    {
        var cited = guide.Advice.Select(row => row.SourceKey).Concat(guide.Steps.SelectMany(step => step.SourceKeys))
            .Concat(guide.ExpectedSourceKeys).Concat(guide.Purity?.SourceKeys ?? []).ToHashSet();
        Assert.Equal(cited.Order(StringComparer.Ordinal), guide.Sources.Select(source => source.Key));
        Assert.Equal(guide.ExpectedCelsius.High <= TableSnapshot.RoomCelsius, guide.Steps.Count == 0);
        Assert.True(guide.Steps.Count == 0 || guide.ExpectedBasis == ExpectedBasis.Usual || guide.Steps[^1].ToCelsius == guide.ExpectedCelsius.High, guide.Title);
        Assert.NotEmpty(guide.Cautions);
        Assert.Contains("local rules", guide.Deferral, StringComparison.Ordinal);
        Assert.True(guide.Purity is null != guide.PurityMissing is null, guide.Title);
        if (guide.Purity is { } purity)
        {
            Assert.True(purity.Impurity.Low >= 0 && purity.Impurity.Low <= purity.Impurity.High && purity.Impurity.High <= PurityEstimate.MostImpurity, guide.Title);
            Assert.True(purity.Impurity.Low >= purity.ImpurityByLinearLaw.Low, guide.Title);
            Assert.True(!hasNoEnthalpy || purity.Basis == EnthalpyBasis.Bounded, guide.Title);
            Assert.Equal(
                purity.Basis == EnthalpyBasis.Bounded, purity.Sentence.Contains("This is a bound", StringComparison.Ordinal));
        }
    }

    internal static IEnumerable<(string What, string SourceKey, Verification? Verification)> Cited() =>
        HeatingRate.All.Select(row => ($"{row.Step}", row.SourceKey, (Verification?)row.Verification))
            .Concat(ReadingAdvice.All.Select(row => (row.Text, row.SourceKey, row.Verification)))
            .Concat(EnthalpyOfFusion.All.SelectMany(row => new[]
            {
                (row.Name, row.SourceKey, (Verification?)row.Verification),
                (row.Name, row.MeltingSourceKey, row.Verification),
            }))
            .Append(("Walden's rule", "walden-rule-kotobank", Verification.Read));
}
