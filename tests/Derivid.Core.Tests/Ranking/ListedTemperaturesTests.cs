using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Tests.Ranking;

/// <summary>What several listed values, none, or a derivative that can't be, make of a reading.</summary>
public sealed class ListedTemperaturesTests
{
    [Fact]
    public void EachFormCountsAlikeAndWithinOneTheBetterKnownValueCountsMore()
    {
        var snapshot = With(
            Record(100, "E", Verification.Read), Record(102, "E", Verification.CrossChecked), Record(120, "Z", Verification.Recalled));

        // Form E: weights by the inverse of the variance, 1.3² + 1.2² = 3.13 when read, 1² + 1.2² = 2.44 when checked.
        var listed = snapshot.Kind(TestTable.Dnph).Listed.Of(0);
        var total = (1 / 3.13) + (1 / 2.44);
        Assert.Equal([100, 102, 120], listed.Select(value => value.HighCelsius));
        Assert.Equal(1 / 3.13 / total / 2, listed[0].Weight, 1e-12);
        Assert.Equal(1 / 2.44 / total / 2, listed[1].Weight, 1e-12);
        Assert.Equal(0.5, listed[2].Weight, 1e-12);
    }

    [Fact]
    public void MonoAndBisDerivativesAreFormsOfTheirOwn()
    {
        var snapshot = With(
            Record(100, null, Verification.Read), Record(101, null, Verification.Read),
            Record(200, null, Verification.Read) with { CarbonylsCondensed = 2 });

        Assert.Equal([0.25, 0.25, 0.5], snapshot.Kind(TestTable.Dnph).Listed.Of(0).Select(value => value.Weight));
    }

    [Fact]
    public void CompoundOfManyListedValuesHasNoAdvantageOverOneOfASingleValue()
    {
        var snapshot = TestTable.Snapshot(("many", "CC(C)=O", [126, 126, 126, 126], []), ("one", "CC(=O)CC", [126], []));
        var view = new IdentificationEngine(snapshot).Weigh(new Observation { Derivatives = [Observed.Dnph(125, 127)] });

        Assert.Equal(view.LogRatioOf(snapshot, "one"), view.LogRatioOf(snapshot, "many"), 1e-12);
    }

    [Fact]
    public void ScatterOfLiteratureHeatAndDecompositionAddInSquares()
    {
        // Recalled 1.8, read 1.3, cross-checked 1 °C; reading 1.2 °C; hot values 1.3 times as wide; decomposition 2.5 °C.
        var scatter = TestTable.Settings.DerivativeMelting;
        double Square(double value) => value * value;

        Assert.Equal(Math.Sqrt(Square(1.8) + 1.44), scatter.CoreCelsius(Verification.Recalled, false, false, 1.2), 1e-12);
        Assert.Equal(Math.Sqrt(Square(1.3) + 1.44), scatter.CoreCelsius(Verification.Read, false, false, 1.2), 1e-12);
        Assert.Equal(Math.Sqrt(1 + 1.44), scatter.CoreCelsius(Verification.CrossChecked, false, false, 1.2), 1e-12);
        Assert.Equal(Math.Sqrt(Square(1.3 * 1.3) + 1.44), scatter.CoreCelsius(Verification.Read, true, false, 1.2), 1e-12);
        Assert.Equal(Math.Sqrt(Square(1.3) + 1.44 + 6.25), scatter.CoreCelsius(Verification.Read, false, true, 1.2), 1e-12);
    }

    [Theory]
    [InlineData(199.9, false)]
    [InlineData(200, true)]
    public void ValuesAreHotFromTwoHundredDegrees(double celsius, bool isHot)
    {
        var noise = new Core.Ranking.Distributions.ReadingNoise(
            TestTable.Settings.DerivativeMelting, 1, new ReadingError(1.2, default));
        var cool = noise.At(0, new ListedTemperature(100, 100, false, Verification.Read, null, "invented", 1));

        Assert.Equal(isHot, noise.At(0, new ListedTemperature(celsius, celsius, false, Verification.Read, null, "invented", 1)) < cool);
    }

    [Fact]
    public void DecompositionSeenOrListedLoosensTheComparison()
    {
        double LogRatio(bool listed, bool seen)
        {
            var snapshot = With(Record(100, null, Verification.Read) with { Decomposes = listed });
            var engine = new IdentificationEngine(snapshot);
            var view = engine.Weigh(new Observation
            {
                Derivatives = [new DerivativeReading(TestTable.Dnph, new MeltingRange(99, 100, seen), Preparation.Recrystallised)],
            });
            return view.LogRatioOf(snapshot, "a") - view.NoneLogLikelihoodRatio;
        }

        Assert.True(LogRatio(false, false) > LogRatio(true, false));
        Assert.Equal(LogRatio(true, false), LogRatio(false, true), 1e-12);
        Assert.Equal(LogRatio(true, false), LogRatio(true, true), 1e-12);
    }

    [Fact]
    public void KindThatScattersMoreIsComparedMoreLoosely()
    {
        var table = TestTable.Five().Table;
        double LogRatio(double factor)
        {
            var snapshot = TableSnapshot.Build(table, TestTable.Settings with
            {
                ScatterFactorByKind = new Dictionary<string, double> { [TestTable.Dnph] = factor },
            });
            return new IdentificationEngine(snapshot).Weigh(new Observation { Derivatives = [Observed.Dnph(125, 126)] })
                .LogRatioOf(snapshot, "propanone");
        }

        Assert.True(LogRatio(0.5) > LogRatio(1) && LogRatio(1) > LogRatio(2));
        var five = TestTable.Five();
        Assert.Equal(
            LogRatio(1),
            new IdentificationEngine(five).Weigh(new Observation { Derivatives = [Observed.Dnph(125, 126)] }).LogRatioOf(five, "propanone"));
    }

    [Fact]
    public void MissingValueIsNeitherAnAdvantageNorAVeto()
    {
        var snapshot = TestTable.Snapshot(
            ("unlisted", "CCCC(=O)CCC", [], []), ("a", "CC(C)=O", [126], []), ("b", "CC(=O)CC", [130], []), ("c", "CCC(=O)CC", [122], []));
        var engine = new IdentificationEngine(snapshot);
        var listed = new double[4];
        var relative = new double[4];
        snapshot.Kind(TestTable.Dnph).Listed.Weigh(126, new ReadingError(1.2, default), listed, relative);

        // An estimate stands in for it, read with an error of 1.2 °C, and a gross share of 0.04 over 360 °C.
        var estimate = snapshot.Kind(TestTable.Dnph).Listed.EstimateOf(3)!.Value;
        Assert.Equal((0.96 * estimate.ReadWithin(1.2).DensityAt(126)) + (0.04 / 360), listed[3], 1e-15);
        var near = engine.Weigh(new Observation { Derivatives = [Observed.Dnph(125, 126)] });
        Assert.True(near.LogRatioOf(snapshot, "unlisted") < near.LogRatioOf(snapshot, "a"));
        Assert.True(near.LogRatioOf(snapshot, "unlisted") > -6);
    }

    [Fact]
    public void KindOfAldehydesOnlyTellsAgainstAKetoneUnlessARecordSaysOtherwise()
    {
        var table = TestTable.Five().Table;
        var snapshot = TableSnapshot.Build(
            table with
            {
                Kinds = [.. table.Kinds.Select(kind => kind.Key == TestTable.Semicarbazone ? kind with { AppliesTo = "aldehyde" } : kind)],
                Derivatives = [.. table.Derivatives.Where(row => row.KindKey == TestTable.Dnph || row.ParentKey is "benzaldehyde" or "propanone")],
            },
            TestTable.Settings);
        var listed = snapshot.Kind(TestTable.Semicarbazone).Listed;

        // In key order: acetophenone, benzaldehyde, pentan-3-one, pinacolone, propanone.
        Assert.Equal([false, true, false, false, true], Enumerable.Range(0, 5).Select(listed.CanHave));
        var answer = new IdentificationEngine(snapshot).Identify(new Observation { Derivatives = [Observed.Semicarbazone(221, 222)] });
        Assert.Equal("benzaldehyde", answer.Candidates[0].Parent.Key);
        Assert.StartsWith(
            "acetophenone is not expected to give a semicarbazone.", Sentence(answer, "acetophenone"), StringComparison.Ordinal);
        var (density, relative) = (new double[5], new double[5]);
        listed.Weigh(222, new ReadingError(1.2, default), density, relative);
        Assert.Equal(0.04 / 360, density[0], 1e-15);
        Assert.Equal(0.04 / 360, relative[0], 1e-15);
    }

    [Fact]
    public void KindNobodyHasListedSaysNothing()
    {
        var snapshot = TestTable.Snapshot(("a", "CC(C)=O", [126], []), ("b", "CC(C)=O", [126], []));
        var (density, relative) = (new double[2], new double[2]);

        snapshot.Kind(TestTable.Semicarbazone).Listed.Weigh(150, new ReadingError(1.2, default), density, relative);

        Assert.Equal(density[0], density[1], 1e-12);
        var answer = new IdentificationEngine(snapshot).Identify(new Observation { Derivatives = [Observed.Semicarbazone(149, 150)] });
        Assert.Equal(0, answer.Candidates[0].LogLikelihoodRatio, 1e-9);
        Assert.StartsWith(
            "No semicarbazone of a is listed; it is estimated at ",
            Sentence(answer, "a"),
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(126, "126 °C, agrees with the listed 124–126 °C of a.")]
    [InlineData(124, "124 °C, agrees with the listed 124–126 °C of a.")]
    [InlineData(127.5, "127.5 °C, is 1.5 °C above the listed 124–126 °C of a.")]
    [InlineData(120, "120 °C, is 4 °C below the listed 124–126 °C of a.")]
    [InlineData(195, "195 °C, is 5 °C below the listed 200 °C (Z) of a.")]
    public void SentenceComparesWithTheNearestListedValue(double clearPoint, string sentence)
    {
        var snapshot = With(
            Record(126, null, Verification.Read) with { LowCelsius = 124 }, Record(200, "Z", Verification.Read));

        var answer = new IdentificationEngine(snapshot).Identify(new Observation { Derivatives = [Observed.Dnph(clearPoint - 1, clearPoint)] });

        Assert.StartsWith($"{TestTable.Dnph}: the reading, {sentence}", Sentence(answer, "a"), StringComparison.Ordinal);
        Assert.Equal(["invented"], answer.Candidates.Single(c => c.Parent.Key == "a").Evidence[0].SourceKeys);
    }

    [Theory]
    [InlineData(119, 131, true, true)]
    [InlineData(118.9, 131, true, false)]
    [InlineData(119, 131.1, false, false)]
    [InlineData(118, 119, true, false)]
    [InlineData(119, 119, true, true)]
    [InlineData(117, 118.9, false, false)]
    public void WindowIsHeldByTheClearPointAndByTheWholeRange(double onset, double clearPoint, bool isClear, bool isWhole)
    {
        // Listed 124–126 °C, window 5 °C.
        var snapshot = With(Record(126, null, Verification.Read) with { LowCelsius = 124 });

        var window = Assert.Single(new IdentificationEngine(snapshot)
            .Identify(new Observation { Derivatives = [Observed.Dnph(onset, clearPoint)] })
            .Candidates.Single(c => c.Parent.Key == "a").Windows);

        Assert.Equal((isClear, isWhole), (window.IsClearPointInside, window.IsWholeRangeInside));
        Assert.Equal((124, 126), (window.ListedLowCelsius, window.ListedHighCelsius));
    }

    private static string Sentence(Identification answer, string parent) =>
        answer.Candidates.Single(candidate => candidate.Parent.Key == parent).Evidence.Single().Sentence;

    /// <summary>One ketone of these records, and another far away.</summary>
    private static TableSnapshot With(params Derivative[] records)
    {
        var table = TestTable.Table(("a", "CC(C)=O", [], [188]), ("b", "CCC(=O)CC", [300], [139]));
        return TableSnapshot.Build(
            table with
            {
                Derivatives = [.. table.Derivatives, .. records.Select((record, i) => record with { Key = $"a/{i}" })],
            },
            TestTable.Settings);
    }

    private static Derivative Record(double celsius, string? form, Verification verification) =>
        new()
        {
            Key = "",
            ParentKey = "a",
            KindKey = TestTable.Dnph,
            CarbonylsCondensed = 1,
            Form = form,
            LowCelsius = celsius,
            HighCelsius = celsius,
            SourceKey = "invented",
            AsPrinted = "",
            Verification = verification,
        };
}
