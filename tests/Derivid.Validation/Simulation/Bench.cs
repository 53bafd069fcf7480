using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.SpotTests;
using MathNet.Numerics.Distributions;

namespace Derivid.Validation.Simulation;

/// <summary>A teaching bench: makes students who melt, boil, look and test, and err as people do.</summary>
/// <param name="table">What the compounds truly do.</param>
/// <param name="parameters">How people err.</param>
public sealed class Bench(BenchTable table, BenchParameters parameters)
{
    private readonly string[] _colourKeys =
        [.. table.Table.Colours.OrderBy(colour => colour.Rank).Select(colour => colour.Key)];

    /// <summary>Makes one student.</summary>
    /// <param name="seed">The run's seed.</param>
    /// <param name="number">The student's number; the unknown goes round the table with it.</param>
    /// <returns>The same seed and number make the same student.</returns>
    public Student Student(int seed, int number)
    {
        var random = new Random(unchecked((int)(((uint)seed * 0x9E3779B1u) ^ ((uint)number * 0x85EBCA77u))));
        var removed = number % table.Parents.Count;
        var truth = removed;
        if (random.NextDouble() >= parameters.AbsentShare)
        {
            truth = random.Next(table.Parents.Count - 1);
            truth += truth >= removed ? 1 : 0;
        }

        var offset = Normal.Sample(random, 0, parameters.OffsetCelsius);
        return new Student
        {
            Truth = truth,
            Removed = removed,
            Derivatives = table.Table.Kinds
                .OrderBy(kind => kind.Key, StringComparer.Ordinal)
                .Where(kind => table.CanForm(kind.Key, truth))
                .Select(kind => Derivative(kind, truth, offset, random))
                .ToDictionary(reading => reading.KindKey, StringComparer.Ordinal),
            SpotTests = SpotTests(truth, random),
            BoilingPoint = BoilingPoint(truth, offset, random),
            MeltingPoint = MeltingPoint(truth, offset, random),
        };
    }

    private DerivativeReading Derivative(DerivativeKind kind, int truth, double offset, Random random)
    {
        var preparation = random.NextDouble() < parameters.RecrystallisedShare
            ? Preparation.Recrystallised
            : Preparation.Crude;
        var records = table.Records(kind.Key);
        var own = records[truth];
        double pure;
        if (own.Length > 0)
        {
            var record = own[random.Next(own.Length)];
            var factor = record.HighCelsius >= parameters.HotFromCelsius ? parameters.HotScatterFactor : 1;
            pure = record.HighCelsius + (factor * parameters.DerivativeScatter.Draw(random))
                + (record.Decomposes ? Normal.Sample(random, 0, parameters.DecompositionCelsius) : 0);
        }
        else
        {
            var all = records.SelectMany(of => of).ToList();
            pure = all[random.Next(all.Count)].HighCelsius + Normal.Sample(random, 0, parameters.UnlistedCelsius);
        }

        var range = Melt(pure, preparation, offset, random);
        return new DerivativeReading(
            kind.Key, range, preparation, kind.ColourInforms ? Colour(kind.Key, truth, random) : null);
    }

    private MeltingRange Melt(double pure, Preparation preparation, double offset, Random random)
    {
        var median = preparation == Preparation.Recrystallised
            ? parameters.RecrystallisedImpurity
            : parameters.CrudeImpurity;
        var impurity = Math.Min(
            parameters.MostImpurity,
            median * Math.Exp(Normal.Sample(random, 0, parameters.ImpurityLogSpread)));
        var behaviour = MeltingBehaviour.Of(
            pure,
            table.FusionEntropies[random.Next(table.FusionEntropies.Length)],
            impurity,
            Between(parameters.VisibleShare, random),
            LogBetween(parameters.Rate, random),
            Between(parameters.LagMinutes, random),
            parameters);
        var clear = Misread(
            pure + behaviour.ShiftCelsius + offset + Normal.Sample(random, 0, parameters.ReadingCelsius),
            parameters.GrossMelting,
            random);
        var width = Math.Clamp(
            behaviour.WidthCelsius + Normal.Sample(random, 0, parameters.WidthReadingCelsius),
            0,
            parameters.WidestCelsius);
        return Range(Rounded(clear), Rounded(width));
    }

    private double Misread(double celsius, (double Least, double Most) span, Random random)
    {
        if (random.NextDouble() >= parameters.GrossShare)
        {
            return celsius;
        }

        return random.NextDouble() < parameters.TensShare
            ? celsius + (random.NextDouble() < 0.5 ? -10 : 10)
            : Between(span, random);
    }

    private string Colour(string kindKey, int truth, Random random)
    {
        var colour = Pick(table.TrueColours(kindKey, truth, parameters.RecordedColourShare), random);
        return _colourKeys[Pick(ColourCalls.Of(colour, _colourKeys.Length, parameters), random)];
    }

    private Dictionary<string, SpotTestReading> SpotTests(int truth, Random random)
    {
        var contaminated = table.Table.Questions
            .OrderBy(question => question.Key, StringComparer.Ordinal)
            .ToDictionary(
                question => question.Key,
                _ => random.NextDouble() < parameters.ContaminationShare,
                StringComparer.Ordinal);
        return table.Table.SpotTests
            .OrderBy(test => test.Key, StringComparer.Ordinal)
            .Select(test =>
            {
                var expected = SpotTestTruth.IsPositive(table.PositiveRate(test.Key)[truth], random);
                var wrong = random.NextDouble() < parameters.TestMistakeShare;
                var positive = expected ^ contaminated[test.QuestionKey] ^ wrong;
                return new SpotTestReading(
                    test.Key, positive ? SpotTestOutcome.Positive : SpotTestOutcome.Negative);
            })
            .ToDictionary(reading => reading.TestKey, StringComparer.Ordinal);
    }

    private MeltingRange BoilingPoint(int truth, double offset, Random random)
    {
        var own = table.BoilingPoints[truth];
        double pure;
        if (own.Length > 0)
        {
            pure = own[random.Next(own.Length)].High + parameters.BoilingScatter.Draw(random);
        }
        else
        {
            var all = table.BoilingPoints.SelectMany(of => of).ToList();
            pure = all[random.Next(all.Count)].High + Normal.Sample(random, 0, parameters.UnlistedCelsius);
        }

        var high = Misread(
            pure + offset + Normal.Sample(random, 0, parameters.BoilingReadingCelsius)
                - Exponential.Sample(random, 1 / parameters.BoilingLowCelsius),
            parameters.GrossBoiling,
            random);
        return Range(Rounded(high), random.Next(4));
    }

    private MeltingRange? MeltingPoint(int truth, double offset, Random random)
    {
        var own = table.MeltingPoints[truth];
        var melting = own.Length > 0
            ? own[random.Next(own.Length)].High + parameters.ParentScatter.Draw(random)
            : double.NegativeInfinity;
        return melting > parameters.RoomCelsius ? Melt(melting, Preparation.Recrystallised, offset, random) : null;
    }

    private static MeltingRange Range(double high, double width)
    {
        var clear = Math.Clamp(high, MeltingRange.LowestCelsius, MeltingRange.HighestCelsius);
        return new MeltingRange(Math.Max(clear - width, MeltingRange.LowestCelsius), clear);
    }

    private double Rounded(double celsius) =>
        Math.Round(celsius / parameters.RoundingCelsius, MidpointRounding.AwayFromZero) * parameters.RoundingCelsius;

    private static double Between((double Least, double Most) span, Random random) =>
        double.Lerp(span.Least, span.Most, random.NextDouble());

    private static double LogBetween((double Least, double Most) span, Random random) =>
        span.Least * Math.Pow(span.Most / span.Least, random.NextDouble());

    private static int Pick(double[] weights, Random random)
    {
        var left = random.NextDouble();
        for (var i = 0; i < weights.Length - 1; i++)
        {
            left -= weights[i];
            if (left < 0)
            {
                return i;
            }
        }

        return weights.Length - 1;
    }
}
