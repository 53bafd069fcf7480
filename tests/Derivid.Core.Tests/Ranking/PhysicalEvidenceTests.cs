using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Ranking.Distributions;

namespace Derivid.Core.Tests.Ranking;

/// <summary>Molar mass, elements and the unknown's own melting point, each by arithmetic done by hand.</summary>
public sealed class PhysicalEvidenceTests
{
    private static readonly (DetectableElement Element, string Parent, string Smiles)[] Halves =
    [
        (DetectableElement.Nitrogen, "a-nitrogen", "O=Cc1ccncc1"), (DetectableElement.Sulfur, "b-sulfur", "O=Cc1cccs1"),
        (DetectableElement.Fluorine, "c-fluorine", "O=Cc1ccc(F)cc1"), (DetectableElement.Chlorine, "d-chlorine", "O=Cc1ccc(Cl)cc1"),
        (DetectableElement.Bromine, "e-bromine", "O=Cc1ccc(Br)cc1"), (DetectableElement.Iodine, "f-iodine", "O=Cc1ccc(I)cc1"),
    ];

    [Fact]
    public void MolarMassIsNormalAboutTheCompoundsWithAFewGrossErrors()
    {
        var snapshot = Masses(("a", 100), ("b", 110));
        var view = new IdentificationEngine(snapshot).Weigh(new Observation { MolarMass = new MolarMassReading(103, 4) });

        // Gross errors 0.02 over 600 g/mol. An unlisted one lies 25 g/mol about its relative, 0.15 of them anywhere.
        double Own(double off) => (0.98 * NormalDensity.At(off, 4)) + (0.02 / 600);
        double Relative(double off) => (0.85 * NormalDensity.At(off, Math.Sqrt(16 + 625))) + (0.15 / 600);
        var mean = (Own(3) + Own(-7)) / 2;
        Assert.Equal(Math.Log(Own(3) / mean), view.LogRatioOf(snapshot, "a"), 1e-12);
        Assert.Equal(Math.Log(Own(-7) / mean), view.LogRatioOf(snapshot, "b"), 1e-12);
        Assert.Equal(Math.Log((Relative(3) + Relative(-7)) / 2 / mean), view.NoneLogLikelihoodRatio, 1e-12);
    }

    [Fact]
    public void MolarMassIsWrittenWithItsUncertainty()
    {
        var answer = new IdentificationEngine(Masses(("a", 100.126), ("b", 110)))
            .Identify(new Observation { MolarMass = new MolarMassReading(103.5, 4.25) });

        Assert.StartsWith(
            "Molar mass 103.5 ± 4.25 g/mol against 100.13 g/mol of a.",
            Evidence(answer, "a").Sentence,
            StringComparison.Ordinal);
    }

    [Fact]
    public void EveryElementIsLookedForInTheStructure()
    {
        var snapshot = TestTable.Snapshot([.. Halves.Select(half => (half.Parent, half.Smiles, new double[] { 200 }, new double[] { 200 }))]);
        var engine = new IdentificationEngine(snapshot);

        // One of six holds it: found in 0.95 of those and in 0.03 of the others.
        Assert.All(Halves, half =>
        {
            var found = engine.Weigh(new Observation { Elements = [new ElementReading(half.Element, true)] });
            var missing = engine.Weigh(new Observation { Elements = [new ElementReading(half.Element, false)] });
            Assert.All(Halves, other =>
            {
                var rate = other == half ? 0.95 : 0.03;
                Assert.Equal(Math.Log(rate / ((0.95 + (5 * 0.03)) / 6)), found.LogRatioOf(snapshot, other.Parent), 1e-12);
                Assert.Equal(
                    Math.Log((1 - rate) / ((0.05 + (5 * 0.97)) / 6)), missing.LogRatioOf(snapshot, other.Parent), 1e-12);
            });
        });
    }

    [Fact]
    public void ElementsFoundAndNotFoundAreMultipliedAndNamed()
    {
        var snapshot = TestTable.Snapshot([.. Halves.Select(half => (half.Parent, half.Smiles, new double[] { 200 }, new double[] { 200 }))]);
        var observation = new Observation
        {
            Elements =
            [
                new ElementReading(DetectableElement.Iodine, false), new ElementReading(DetectableElement.Sulfur, true),
                new ElementReading(DetectableElement.Bromine, false), new ElementReading(DetectableElement.Nitrogen, true),
            ],
        };
        var answer = new IdentificationEngine(snapshot).Identify(observation);
        var one = Evidence(answer, "a-nitrogen");
        var none = Evidence(answer, "c-fluorine");

        Assert.StartsWith("Elements: nitrogen, sulfur found; bromine, iodine not found; a-nitrogen is ", one.Sentence, StringComparison.Ordinal);
        Assert.Equal(Math.Log(0.95 / 0.03), one.LogLikelihoodRatio - none.LogLikelihoodRatio, 1e-12);
        Assert.StartsWith(
            "Elements: chlorine, fluorine not found",
            Evidence(
                new IdentificationEngine(snapshot).Identify(new Observation
                {
                    Elements = [new ElementReading(DetectableElement.Chlorine, false), new ElementReading(DetectableElement.Fluorine, false)],
                }),
                "a-nitrogen").Sentence.Replace("fluorine, chlorine", "chlorine, fluorine", StringComparison.Ordinal),
            StringComparison.Ordinal);
        Assert.StartsWith(
            "Elements: chlorine found; a-nitrogen is ",
            Evidence(
                new IdentificationEngine(snapshot).Identify(new Observation
                {
                    Elements = [new ElementReading(DetectableElement.Chlorine, true)],
                }),
                "a-nitrogen").Sentence,
            StringComparison.Ordinal);
    }

    [Fact]
    public void MeltingPointOfTheUnknownIsWeighedAsRecrystallised()
    {
        var table = TestTable.Table(("a", "CC(C)=O", [126], []), ("b", "CCC(=O)CC", [156], []));
        var snapshot = TableSnapshot.Build(
            table with
            {
                Constants =
                [
                    TestTable.Constant("a", ParentProperty.MeltingPoint, 50),
                    TestTable.Constant("b", ParentProperty.MeltingPoint, 90),
                ],
            },
            TestTable.Settings);
        var view = new IdentificationEngine(snapshot).Weigh(new Observation { MeltingPoint = new MeltingRange(46, 49) });

        var noise = new ReadingNoise(
            TestTable.Settings.ParentMelting,
            1,
            new ReadingError(1.2, TestTable.Settings.Depression.PurityOf(3, Preparation.Recrystallised)));
        double Own(double listed) =>
            noise.At(49 - listed, new ListedTemperature(listed, listed, false, Verification.Read, null, "invented", 1));
        Assert.Equal(
            Math.Log(Own(50) / Own(90)), view.LogRatioOf(snapshot, "a") - view.LogRatioOf(snapshot, "b"), 1e-9);
    }

    [Theory]
    [InlineData(0.0)]
    [InlineData(2.0)]
    public void BoilingPointMayReadLowByWhatTheSettingsSay(double low)
    {
        var table = TestTable.Table(("a", "CC(C)=O", [126], []), ("b", "CCC(=O)CC", [156], []));
        var snapshot = TableSnapshot.Build(
            table with
            {
                Constants =
                [
                    TestTable.Constant("a", ParentProperty.BoilingPoint, 56),
                    TestTable.Constant("b", ParentProperty.BoilingPoint, 102),
                ],
            },
            TestTable.Settings with
            {
                BoilingLow = new BoilingLowSettings { Celsius = low, GrossShare = 0, GrossCelsius = 10 },
            });
        var reading = new BoilingPointReading(new MeltingRange(53, 54));
        var view = new IdentificationEngine(snapshot).Weigh(new Observation { BoilingPoint = reading });

        var noise = new ReadingNoise(
            TestTable.Settings.Boiling, 1, new ReadingError(1.2, low > 0 ? new Purity(1, low) : default));
        double Own(double listed) => noise.At(
            PressureCorrection.ToStandard(54, reading.PressureKilopascals) - listed,
            new ListedTemperature(listed, listed, false, Verification.Read, null, "invented", 1));
        Assert.Equal(
            Math.Log(Own(56) / Own(102)), view.LogRatioOf(snapshot, "a") - view.LogRatioOf(snapshot, "b"), 1e-9);
    }

    private static Evidence Evidence(Identification answer, string parent) =>
        Assert.Single(answer.Candidates.Single(candidate => candidate.Parent.Key == parent).Evidence);

    private static TableSnapshot Masses(params (string Key, double Mass)[] parents)
    {
        var table = TestTable.Table([.. parents.Select((parent, i) =>
            (parent.Key, $"CC(=O){new string('C', i + 1)}", new double[] { 126 }, new double[] { 188 }))]);
        return TableSnapshot.Build(
            table with { Parents = [.. table.Parents.Zip(parents, (row, parent) => row with { MolarMass = parent.Mass })] },
            TestTable.Settings);
    }
}
