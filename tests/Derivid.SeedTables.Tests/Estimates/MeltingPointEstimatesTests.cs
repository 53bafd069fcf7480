using Derivid.Core.Estimates;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests.Estimates;

/// <summary>How far predicted melting points of derivatives lie from the listed ones.</summary>
/// <remarks>
/// Each tenth of the parents is left out of the fit in its turn, and each of its derivatives predicted from its others.
/// The bounds are what was measured, rounded to the worse side; the listed values are the reference.
/// </remarks>
public sealed class MeltingPointEstimatesTests
{
    private const int Folds = 10;

    private static readonly List<(string Kind, double Listed, TemperatureEstimate Estimate)> LeftOut = [.. Predictions()];

    [Fact]
    public void LeftOutDerivativeIsFoundWithinTheErrorStated()
    {
        var sizes = LeftOut.Select(row => Math.Abs(row.Estimate.MeanCelsius - row.Listed)).Order().ToList();
        var inSpreads = LeftOut.Select(row => (row.Estimate.MeanCelsius - row.Listed) / row.Estimate.SpreadCelsius).ToList();
        var rms = Math.Sqrt(sizes.Average(size => size * size));

        TestContext.Current.TestOutputHelper?.WriteLine(FormattableString.Invariant(
            $"n {sizes.Count}, rms {rms:0.0}, median {sizes[sizes.Count / 2]:0.0}, z {Math.Sqrt(inSpreads.Average(z => z * z)):0.00}"));
        Assert.InRange(rms, 0, 30);
        Assert.InRange(sizes[sizes.Count / 2], 0, 19);
    }

    /// <summary>Against the plain distribution of the kind: its other parents' values, each spread by the best of five widths.</summary>
    [Fact]
    public void TellsNearlyHalfANatMoreThanTheKindAlone()
    {
        var own = LeftOut.Average(row => Math.Log(row.Estimate.DensityAt(row.Listed)));
        var kinds = LeftOut.GroupBy(row => row.Kind).Where(rows => rows.Count() > 1)
            .ToDictionary(rows => rows.Key, rows => rows.Select(row => row.Listed).ToList());
        var plain = new[] { 5.0, 10, 15, 20, 30 }.Max(width => LeftOut.Where(row => kinds.ContainsKey(row.Kind)).Average(row =>
            Math.Log((kinds[row.Kind].Sum(value => Normal(row.Listed - value, width)) - Normal(0, width)) / (kinds[row.Kind].Count - 1))));

        TestContext.Current.TestOutputHelper?.WriteLine(FormattableString.Invariant($"{own:0.000} against {plain:0.000}"));
        Assert.InRange(own - plain, 0.45, 0.7);
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(0.8)]
    [InlineData(0.95)]
    public void StatedErrorIsHonest(double share) => Assert.InRange(
        LeftOut.Average(row => Math.Abs((2 * row.Estimate.ProbabilityBelow(row.Listed)) - 1) < share ? 1.0 : 0.0),
        share - 0.06,
        share + 0.06);

    [Fact]
    public void ParentsThatHaveNoneOfTheirOwnHaveOneToo()
    {
        var estimates = MeltingPointEstimates.Of(Table);

        Assert.All(Table.Parents, parent =>
        {
            Assert.InRange(estimates.OfParent(parent.Key)!.Value.SpreadCelsius, 20, 80);
            Assert.All(Table.Kinds, kind =>
                Assert.InRange(estimates.OfDerivative(parent.Key, kind.Key)!.Value.SpreadCelsius, 15, 90));
        });
        Assert.Null(estimates.OfParent("nobody"));
        Assert.Null(estimates.OfDerivative("propanone", "nothing"));
    }

    [Fact]
    public void PredictionDoesNotLookAtTheValueItPredicts()
    {
        var shifted = Table with
        {
            Derivatives = [.. Table.Derivatives.Select(row => row.ParentKey == "propanone" && row.KindKey == "oxime"
                ? row with { LowCelsius = 240, HighCelsius = 240 } : row)],
        };
        var without = new HashSet<string> { "propanone" };

        Assert.Equal(
            MeltingPointEstimates.Of(Table, without).OfDerivative("propanone", "oxime"),
            MeltingPointEstimates.Of(shifted, without).OfDerivative("propanone", "oxime"));
    }

    private static IEnumerable<(string Kind, double Listed, TemperatureEstimate Estimate)> Predictions()
    {
        var listed = Table.Derivatives.GroupBy(row => (row.ParentKey, row.KindKey))
            .Select(rows => (rows.Key.ParentKey, rows.Key.KindKey, Celsius: rows.Average(row => row.HighCelsius))).ToList();
        for (var fold = 0; fold < Folds; fold++)
        {
            var without = Table.Parents.Where((_, i) => i % Folds == fold).Select(parent => parent.Key).ToHashSet();
            var estimates = MeltingPointEstimates.Of(Table, without);
            foreach (var row in listed.Where(row => without.Contains(row.ParentKey)))
            {
                yield return (row.KindKey, row.Celsius, estimates.OfDerivative(row.ParentKey, row.KindKey)!.Value);
            }
        }
    }

    private static double Normal(double deviation, double width) =>
        Math.Exp(-0.5 * deviation * deviation / (width * width)) / (width * Math.Sqrt(2 * Math.PI));
}
