using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.SpotTests;
using MathNet.Numerics.Distributions;

namespace Derivid.Validation.Simulation;

/// <summary>A teaching bench: makes students who melt, boil, look and test, and err as people do.</summary>
/// <remarks>Nothing is made up: where nobody has printed a value, there is no reading.</remarks>
/// <param name="table">What the compounds truly do.</param>
/// <param name="parameters">How people err.</param>
public sealed class Bench(BenchTable table, BenchParameters parameters)
{
    private readonly BenchChemistry _chemistry = new(table, parameters);
    private readonly DerivativeKind[] _kinds = [.. table.Table.Kinds.OrderBy(kind => kind.Key, StringComparer.Ordinal)];
    private readonly Core.SpotTests.SpotTest[] _tests =
        [.. table.Table.SpotTests.OrderBy(test => test.Key, StringComparer.Ordinal)];

    private readonly string[] _questions =
        [.. table.Table.Questions.Select(question => question.Key).Order(StringComparer.Ordinal)];

    /// <summary>Makes one student.</summary>
    /// <param name="seed">The run's seed.</param>
    /// <param name="number">The student's number; the unknown goes round the table with it.</param>
    /// <returns>The same seed and number make the same student.</returns>
    public Student Student(int seed, int number)
    {
        var random = Chance(seed, number);
        var removed = number % table.Parents.Count;
        var truth = removed;
        if (random.NextDouble() >= parameters.AbsentShare)
        {
            truth = random.Next(table.Parents.Count - 1);
            truth += truth >= removed ? 1 : 0;
        }

        return Make(truth, removed, random);
    }

    /// <summary>Makes one student with an unknown of one's choosing, against the whole table.</summary>
    public Student StudentWith(int seed, int number, int parent) => Make(parent, removed: -1, Chance(seed, number));

    private static Random Chance(int seed, int number) =>
        new(unchecked((int)(((uint)seed * 0x9E3779B1u) ^ ((uint)number * 0x85EBCA77u))));

    private Student Make(int truth, int removed, Random random)
    {
        // What the bottle holds, not what its label says, is what melts.
        var held = truth;
        if (random.NextDouble() < parameters.MislabelledShare)
        {
            held = random.Next(table.Parents.Count - 1);
            held += held >= truth ? 1 : 0;
        }

        var offset = Normal.Sample(random, parameters.OffsetMeanCelsius, parameters.OffsetCelsius);
        var derivatives = _kinds
            .Where(kind => table.Records(kind.Key)[held].Length > 0)
            .Select(kind => Derivative(kind, held, offset, random))
            .ToList();
        var tests = SpotTests(held, random);
        var boiling = BoilingPoint(held, offset, random);
        var (isSolid, melting) = MeltingPoint(held, offset, random);
        return new Student
        {
            Truth = truth,
            Removed = removed,
            Derivatives = Taken(derivatives, random).ToDictionary(reading => reading.KindKey, StringComparer.Ordinal),
            SpotTests = Taken(tests, random).ToDictionary(reading => reading.TestKey, StringComparer.Ordinal),
            BoilingPoint = IsTaken(random) ? boiling : null,
            IsSolid = isSolid,
            MeltingPoint = IsTaken(random) ? melting : null,
        };
    }

    private bool IsTaken(Random random) => random.NextDouble() >= parameters.MissingShare;

    private List<T> Taken<T>(List<T> readings, Random random) => [.. readings.Where(_ => IsTaken(random))];

    private DerivativeReading Derivative(DerivativeKind kind, int truth, double offset, Random random)
    {
        var preparation = random.NextDouble() < parameters.RecrystallisedShare
            ? Preparation.Recrystallised
            : Preparation.Crude;
        var own = table.Records(kind.Key)[truth];
        var lasting = parameters.LastingSeed is { } seed ? Chance(seed + kind.Key.Sum(letter => letter), truth) : random;
        var record = own[lasting.Next(own.Length)];
        var factor = record.HighCelsius >= parameters.HotFromCelsius ? parameters.HotScatterFactor : 1;
        var pure = record.HighCelsius + (factor * parameters.DerivativeScatter.Draw(lasting))
            + (record.Decomposes ? Normal.Sample(random, 0, parameters.DecompositionCelsius) : 0);
        var range = Melt(pure, preparation, offset, random, mayBeWet: true);
        return new DerivativeReading(
            kind.Key, range, preparation, kind.Key == BenchTable.HydrazoneKey ? Colour(truth, random) : null);
    }

    private MeltingRange Melt(double pure, Preparation preparation, double offset, Random random, bool mayBeWet)
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
        if (mayBeWet && random.NextDouble() < parameters.WetShare)
        {
            behaviour = new MeltingBehaviour(
                -Normal.Sample(random, parameters.WetLowCelsius.Mean, parameters.WetLowCelsius.Spread),
                Normal.Sample(random, parameters.WetWidthCelsius.Mean, parameters.WetWidthCelsius.Spread));
        }

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

    private string Colour(int truth, Random random)
    {
        var colours = _chemistry.Colours;
        var colour = Pick(_chemistry.ColourShares(truth), random);
        return colours[Pick(ColourCalls.Of(colour, colours.Count, parameters), random)].Key;
    }

    private List<SpotTestReading> SpotTests(int truth, Random random)
    {
        var contaminated = _questions.ToDictionary(
            key => key, _ => random.NextDouble() < parameters.ContaminationShare, StringComparer.Ordinal);
        return [.. _tests.Select(test =>
        {
            var expected = random.NextDouble() < _chemistry.Positive(test.Key, truth);
            var wrong = random.NextDouble() < parameters.TestMistakeShare;
            var positive = expected ^ contaminated[test.QuestionKey] ^ wrong;
            return new SpotTestReading(test.Key, positive ? SpotTestOutcome.Positive : SpotTestOutcome.Negative);
        })];
    }

    private MeltingRange? BoilingPoint(int truth, double offset, Random random)
    {
        var own = table.BoilingPoints[truth];
        if (own.Length == 0)
        {
            return null;
        }

        var pure = own[random.Next(own.Length)].High + parameters.BoilingScatter.Draw(random);
        var low = random.NextDouble() < parameters.LowBoilingShare
            ? Normal.Sample(random, parameters.LowBoilingCelsius.Mean, parameters.LowBoilingCelsius.Spread)
            : 0;

        var high = Misread(
            pure - low + offset + Normal.Sample(random, 0, parameters.BoilingReadingCelsius)
                - Exponential.Sample(random, 1 / parameters.BoilingLowCelsius),
            parameters.GrossBoiling,
            random);
        return Range(Rounded(high), random.Next(4));
    }

    private (bool IsSolid, MeltingRange? Range) MeltingPoint(int truth, double offset, Random random)
    {
        var own = table.MeltingPoints[truth];
        var melting = own.Length > 0
            ? own[random.Next(own.Length)].High + parameters.ParentScatter.Draw(random)
            : double.NegativeInfinity;
        return melting > parameters.RoomCelsius
            ? (true, Melt(melting, Preparation.Recrystallised, offset, random, mayBeWet: false))
            : (false, null);
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
