using Derivid.Core.Learning;
using MathNet.Numerics.Distributions;

namespace Derivid.Core.Tests.Learning;

public sealed class TwoLevelRatesTests
{
    [Theory]
    [InlineData(0.05)]
    [InlineData(0.5)]
    [InlineData(0.9)]
    public void WithNothingCountedTheRateStaysAsAssumed(double assumed)
    {
        var learned = Assert.Single(TwoLevelRates.Of([new CountedClass("a", assumed, [])]).Classes);

        Assert.Equal(assumed, learned.Rate.Mean, 0.01);
        Assert.True(learned.Rate.Holds(assumed));
    }

    [Fact]
    public void ManyCountsOutweighWhatIsAssumed()
    {
        var learned = Learn(0.9, [.. Enumerable.Range(0, 30).Select(i => new CountedCompound($"{i}", 6, 14))]);

        Assert.Equal(0.3, learned.Rate.Mean, 0.03);
        Assert.InRange(learned.Rate.High - learned.Rate.Low, 0.02, 0.12);
    }

    [Fact]
    public void CompoundIsDrawnTowardsItsClass()
    {
        var compounds = Enumerable.Range(0, 12).Select(i => new CountedCompound($"{i}", i == 0 ? 12 : 54, i == 0 ? 48 : 6)).ToList();
        var learned = Learn(0.9, compounds);

        Assert.InRange(learned.Compounds[0].Rate.Mean, 0.2, learned.Rate.Mean);
        Assert.True(learned.Compounds[0].Rate.High < learned.Rate.Mean);
        Assert.True(learned.Compounds[1].Rate.Mean > learned.Compounds[0].Rate.Mean);
    }

    [Fact]
    public void AssumedRatesThatHoldAreWorthMore()
    {
        static CountedClass Class(double assumed, int yes, int no) =>
            new("a", assumed, [.. Enumerable.Range(0, 6).Select(i => new CountedCompound($"{i}", yes, no))]);

        var right = TwoLevelRates.Of([Class(0.9, 18, 2), Class(0.1, 2, 18), Class(0.5, 10, 10)]);
        var wrong = TwoLevelRates.Of([Class(0.1, 18, 2), Class(0.9, 2, 18), Class(0.99, 10, 10)]);

        Assert.True(right.ClassWorth > 4 * wrong.ClassWorth);
    }

    [Fact]
    public void IntervalsHoldNineOfTenWhereTheModelIsTrue()
    {
        // Of a Bayesian interval that is so over worlds drawn as they are believed to be, their worths too, and not in each.
        var random = new Random(5);
        var (classes, compounds) = (new List<bool>(), new List<bool>());
        for (var world = 0; world < 40; world++)
        {
            var (ofClass, ofCompound) = (Math.Pow(2, random.Next(8)), Math.Pow(2, 1 + random.Next(9)));
            var truth = new List<(double Rate, List<double> Rates)>();
            var counted = new List<CountedClass>();
            for (var i = 0; i < 20; i++)
            {
                var assumed = 0.1 + (0.8 * random.NextDouble());
                var rate = Beta.Sample(random, ofClass * assumed, ofClass * (1 - assumed));
                var rates = Enumerable.Range(0, 4).Select(_ => Drawn(random, ofCompound * rate, ofCompound * (1 - rate))).ToList();
                truth.Add((rate, rates));
                counted.Add(new CountedClass($"{i}", assumed, [.. rates.Select((one, j) => Binomial.Sample(random, one, 12) is var yes ? new CountedCompound($"{j}", yes, 12 - yes) : null!)]));
            }

            foreach (var (learned, of) in TwoLevelRates.Of(counted).Classes.Zip(truth))
            {
                classes.Add(learned.Rate.Holds(of.Rate));
                compounds.AddRange(learned.Compounds.Zip(of.Rates, (compound, rate) => compound.Rate.Holds(rate)));
            }
        }

        Assert.Equal(0.9, classes.Average(inside => inside ? 1.0 : 0), 0.04);
        Assert.Equal(0.9, compounds.Average(inside => inside ? 1.0 : 0), 0.04);
    }

    [Fact]
    public void PosteriorOfOneReportIsAsWorkedOutByHand()
    {
        // One class of which half are assumed to answer, one compound of it, one report, a yes. However much is worth what, one yes of a rate
        // expected to be 1/2 is as likely, 1/2, so every worth stays as probable as it was: s of 1, 2, ... 128 each 1/8, κ of 2, 4, ... 512 each 1/9.
        //
        // The class has a Beta(s/2, s/2), so after one yes Beta(s/2 + 1, s/2), of mean (s/2 + 1)/(s + 1):
        //   s     1        2        4        8        16       32       64       128
        //   mean  3/2 / 2  2/3      3/5      5/9      9/17     17/33    33/65    65/129
        //       = 0.75     0.66667  0.60000  0.55556  0.52941  0.51515  0.50769  0.50388    sum 4.62836, of which 1/8 is 0.57854.
        //
        // The compound has a Beta about the class's rate that is worth κ, so its mean is (κ·m + 1)/(κ + 1) = m + (1 − m)/(κ + 1), m being 0.57854:
        //   1/3 + 1/5 + 1/9 + 1/17 + 1/33 + 1/65 + 1/129 + 1/257 + 1/513
        //   = 0.33333 + 0.20000 + 0.11111 + 0.05882 + 0.03030 + 0.01538 + 0.00775 + 0.00389 + 0.00195 = 0.76254, of which 1/9 is 0.08473;
        //   0.57854 + 0.42146·0.08473 = 0.61425.
        var learned = Learn(0.5, [new CountedCompound("a", 1, 0)]);

        Assert.Equal(0.57854, learned.Rate.Mean, 1e-3);
        Assert.Equal(0.61425, Assert.Single(learned.Compounds).Rate.Mean, 1e-3);
    }

    [Fact]
    public void IntervalOfABetaIsItsQuantiles()
    {
        // Source: closed form. Beta(1, 3) has the distribution function 1 − (1 − x)³.
        var figure = LearnedFigure.OfBeta(0.25, 4);

        Assert.Equal(1 - Math.Cbrt(0.95), figure.Low, 1e-4);
        Assert.Equal(1 - Math.Cbrt(0.05), figure.High, 1e-4);
    }

    // A class that never, or always, answers has compounds that do likewise.
    private static double Drawn(Random random, double yes, double no) => yes < 1e-9 ? 0 : no < 1e-9 ? 1 : Beta.Sample(random, yes, no);

    private static LearnedClass Learn(double assumed, IReadOnlyList<CountedCompound> compounds) =>
        Assert.Single(TwoLevelRates.Of([new CountedClass("a", assumed, compounds)]).Classes);
}
