using Derivid.Core.Ranking;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Advice;

/// <summary>Chooses the step after which, with the best next one, the fewest minutes are to be expected.</summary>
/// <remarks>
/// It knows how the students of the bench err: outcomes are drawn from readings simulated for every compound, and weighed as
/// the engine weighs them. What is left after two steps is taken to cost so many minutes a nat of entropy, a number tried
/// out on the fitting half. Readings are weighed as if independent, which tests of one question are not: it asks each
/// question once. The answers themselves come from the engine. Thread safety: immutable.
/// </remarks>
public sealed class LookAhead
{
    private const int ReadingsEach = 10;
    private const int Outcomes = 48;
    private const int FurtherOutcomes = 16;
    private const int ShortListed = 8;
    private const int MostActive = 40;

    private readonly Workplace _workplace;
    private readonly double _minutesPerNat;
    private readonly Reading[][] _bank;

    private LookAhead(Workplace workplace, double minutesPerNat, Reading[][] bank) =>
        (_workplace, _minutesPerNat, _bank) = (workplace, minutesPerNat, bank);

    /// <summary>Simulates the readings.</summary>
    public static LookAhead Build(
        Workplace workplace, Bench bench, IdentificationEngine engine, int parents, int seed, double minutesPerNat)
    {
        var bank = new Reading[parents][];
        Parallel.For(0, parents, parent => bank[parent] = [.. Enumerable.Range(0, ReadingsEach)
            .Select(number => Simulate(workplace, engine, bench.StudentWith(seed, (parent * ReadingsEach) + number, parent)))]);
        return new LookAhead(workplace, minutesPerNat, bank);
    }

    /// <summary>The same readings with another cost of what is left.</summary>
    public LookAhead With(double minutesPerNat) => new(_workplace, minutesPerNat, _bank);

    /// <summary>Chooses.</summary>
    /// <param name="probability">Probability of each parent now.</param>
    /// <param name="none">Probability of "none of these" now.</param>
    /// <param name="left">The steps not taken yet.</param>
    /// <param name="isSolid">Whether the unknown is a solid.</param>
    /// <param name="random">Draws the outcomes.</param>
    public int Choose(IReadOnlyList<double> probability, double none, IReadOnlyList<int> left, bool isSolid, Random random)
    {
        var active = Enumerable.Range(0, probability.Count)
            .OrderByDescending(parent => probability[parent])
            .ThenBy(parent => parent)
            .Take(MostActive)
            .ToArray();
        // The last place is "none of these".
        var now = active.Select(parent => probability[parent]).Append(none).ToArray();
        Normalise(now);
        var first = Draw(now, active, isSolid, Outcomes, random);
        var second = first.Select(_ => random.Next()).ToArray();
        var worth = ShortList(WorthAsking(left), now, active, first, isSolid);
        var best = (Step: left[0], Minutes: double.PositiveInfinity);
        foreach (var step in worth)
        {
            var minutes = Workplace.MinutesOf(_workplace.Steps[step], isSolid);
            for (var i = 0; i < first.Length; i++)
            {
                var then = Updated(now, active, first[i], step);
                minutes += IsEnough(then) ? 0 : Further(then, active, step, worth, isSolid, new Random(second[i])) / first.Length;
            }

            best = minutes < best.Minutes ? (step, minutes) : best;
        }

        return best.Step;
    }

    /// <summary>The steps left, without tests of a question that was asked already.</summary>
    private List<int> WorthAsking(IReadOnlyList<int> left)
    {
        var asked = Enumerable.Range(0, _workplace.Steps.Count)
            .Except(left)
            .Select(step => _workplace.Steps[step].QuestionKey)
            .ToHashSet();
        return [.. left.Where(step => _workplace.Steps[step].QuestionKey is not { } question || !asked.Contains(question))];
    }

    /// <summary>The steps that lower the entropy most a minute, over the outcomes drawn.</summary>
    private List<int> ShortList(List<int> steps, double[] now, int[] active, Reading[] outcomes, bool isSolid)
    {
        var before = Entropy(now);
        double Worth(int step) => outcomes.Average(outcome => before - Entropy(Updated(now, active, outcome, step)))
            / Workplace.MinutesOf(_workplace.Steps[step], isSolid);
        return [.. steps.OrderByDescending(Worth).ThenBy(step => step).Take(ShortListed)];
    }

    private double Further(
        double[] then, int[] active, int taken, IReadOnlyList<int> left, bool isSolid, Random random)
    {
        var outcomes = Draw(then, active, isSolid, FurtherOutcomes, random);
        var least = double.PositiveInfinity;
        foreach (var step in left)
        {
            var question = _workplace.Steps[step].QuestionKey;
            if (step == taken || (question is not null && question == _workplace.Steps[taken].QuestionKey))
            {
                continue;
            }

            var minutes = Workplace.MinutesOf(_workplace.Steps[step], isSolid);
            for (var i = 0; i < outcomes.Length && minutes < least; i++)
            {
                var after = Updated(then, active, outcomes[i], step);
                minutes += IsEnough(after) ? 0 : _minutesPerNat * Entropy(after) / outcomes.Length;
            }

            least = Math.Min(least, minutes);
        }

        return double.IsFinite(least) ? least : _minutesPerNat * Entropy(then);
    }

    /// <summary>Draws readings of compounds by their probabilities, evenly spaced so that few draws cover them.</summary>
    private Reading[] Draw(double[] weights, int[] active, bool isSolid, int count, Random random)
    {
        var listed = weights.Take(active.Length).Sum();
        var drawn = new Reading[count];
        var (at, below, start) = (0, weights[0], random.NextDouble());
        for (var i = 0; i < count; i++)
        {
            var place = (i + start) / count * listed;
            while (below < place && at < active.Length - 1)
            {
                below += weights[++at];
            }

            var bank = _bank[active[at]];
            var alike = bank.Where(reading => reading.IsSolid == isSolid).ToList();
            drawn[i] = alike.Count > 0 ? alike[random.Next(alike.Count)] : bank[random.Next(bank.Length)];
        }

        return drawn;
    }

    private static double[] Updated(double[] weights, int[] active, Reading reading, int step)
    {
        if (reading.Ratios[step] is not { } ratios)
        {
            return weights;
        }

        var updated = new double[weights.Length];
        for (var i = 0; i < active.Length; i++)
        {
            updated[i] = weights[i] * ratios[active[i]];
        }

        updated[^1] = weights[^1] * ratios[^1];
        Normalise(updated);
        return updated;
    }

    private static bool IsEnough(double[] weights) => weights.Max() >= Workplace.Enough;

    private static double Entropy(double[] weights)
    {
        var entropy = 0.0;
        foreach (var weight in weights)
        {
            entropy -= weight > 1e-6 ? weight * Math.Log(weight) : 0;
        }

        return entropy;
    }

    private static void Normalise(double[] weights)
    {
        var total = weights.Sum();
        for (var i = 0; i < weights.Length; i++)
        {
            weights[i] /= total;
        }
    }

    private static Reading Simulate(Workplace workplace, IdentificationEngine engine, Student student)
    {
        var start = Workplace.Start(student);
        var before = engine.Weigh(start);
        return new Reading(student.IsSolid, [.. workplace.Steps.Select(step =>
        {
            var seen = Workplace.After(start, step, student);
            return seen == start ? null : Ratios(engine.Weigh(seen), before);
        })]);
    }

    private static double[] Ratios(PosteriorView after, PosteriorView before) =>
    [
        .. after.LogLikelihoodRatio.Select((ratio, parent) => Math.Exp(ratio - before.LogLikelihoodRatio[parent])),
        Math.Exp(after.NoneLogLikelihoodRatio - before.NoneLogLikelihoodRatio),
    ];

    /// <summary>One simulated student's likelihood ratios, by step. Missing: null, the step shows nothing.</summary>
    private sealed record Reading(bool IsSolid, double[]?[] Ratios);
}
