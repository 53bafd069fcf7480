using Derivid.Core.Compounds;
using Derivid.Core.Curation.Readings;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Validation.Ideal;
using Derivid.Validation.Literature;

namespace Derivid.Validation.Checking;

/// <summary>Whether the values most worth checking are worth it: the first of the list beside as many at random.</summary>
/// <remarks>
/// An unknown is one line of the table; its crystals melt where a source prints it, read with a normal error; nothing else is
/// known of it. What is counted is how often the engine's first answer is another compound, each line by how common its
/// compound is. Checking a line takes the printed value in as the verification desk does.
/// </remarks>
/// <param name="snapshot">The table laid out.</param>
public sealed class CheckingExperiment(TableSnapshot snapshot)
{
    private const int Seed = 17;

    private const int RandomLists = 20;

    // Of a thermometer (1 °C) and its reader (0.7 °C). Units: °C. Assumed, as on the simulated bench.
    private const double ReadingCelsius = 1.22;

    private const double SpanCelsius = 1.5;

    private readonly List<SheetPlace> _list = [.. CheckingWorth.Of(snapshot).Select(line => SheetPlace.Of(line.Record))];

    private readonly Dictionary<string, double> _weights = snapshot.Parents.ToDictionary(
        parent => parent.Key, parent => snapshot.Settings.Commonness.Of(parent.Commonness), StringComparer.Ordinal);

    /// <summary>What sources print of unread lines, set aside before the table was made, whether among these lines or among all.</summary>
    /// <param name="values">The values set aside.</param>
    /// <param name="counts">How many lines are checked.</param>
    /// <param name="amongAll">Whether they are taken from all unread lines; of most of these nothing was set aside, so nothing shows.</param>
    public IReadOnlyList<CheckingResult> SetAside(IReadOnlyList<LiteratureValue> values, IReadOnlyList<int> counts, bool amongAll)
    {
        ArgumentNullException.ThrowIfNull(values);
        var printed = new Dictionary<SheetPlace, Derivative>();
        foreach (var pair in values.GroupBy(value => (value.ParentKey, value.KindKey)))
        {
            // A source mostly says nothing of the form: it is held against the line that it is nearest to.
            var first = pair.OrderBy(value => value.Family, StringComparer.Ordinal).ThenBy(value => value.HighCelsius).First();
            if (Unread().Where(line => (line.Key.ParentKey, line.Key.KindKey) == pair.Key)
                .MinBy(line => line.Min(record => Math.Abs(record.HighCelsius - first.HighCelsius))) is { } line)
            {
                printed[line.Key] = line.First() with { LowCelsius = first.LowCelsius, HighCelsius = first.HighCelsius, SourceKey = "printed" };
            }
        }

        return Mean(counts, [Trial(printed, amongAll ? [.. Unread().Select(line => line.Key)] : [.. printed.Keys], counts, new Random(Seed))]);
    }

    /// <summary>What sources print of every unread line is drawn from how far recalled values were off elsewhere.</summary>
    /// <param name="draws">How many times.</param>
    /// <param name="counts">How many lines are checked.</param>
    public IReadOnlyList<CheckingResult> Drawn(int draws, IReadOnlyList<int> counts)
    {
        var deviations = CheckingWorth.Deviations(snapshot.Table);
        var lines = Unread().ToList();
        var trials = Enumerable.Range(0, draws).AsParallel().AsOrdered().Select(draw =>
        {
            var random = new Random(Seed + draw);
            var printed = lines.ToDictionary(line => line.Key, line =>
            {
                var celsius = line.ElementAt(random.Next(line.Count())).HighCelsius + deviations[random.Next(deviations.Count)];
                return line.First() with { LowCelsius = celsius, HighCelsius = celsius, SourceKey = "printed" };
            });
            return Trial(printed, [.. printed.Keys], counts, random);
        });
        return Mean(counts, [.. trials]);
    }

    private IEnumerable<IGrouping<SheetPlace, Derivative>> Unread() => CheckingWorth.Unread(snapshot.Table)
        .OrderBy(line => line.First().Key, StringComparer.Ordinal);

    private List<WrongAnswers> Trial(
        Dictionary<SheetPlace, Derivative> printed, HashSet<SheetPlace> lines, IReadOnlyList<int> counts, Random random)
    {
        var list = _list.Where(lines.Contains).ToList();
        var before = Wrong(printed, []);
        return [.. counts.Select(count => new WrongAnswers(
            before,
            Wrong(printed, list.Take(count)),
            Enumerable.Range(0, RandomLists).Average(_ => Wrong(printed, lines.OrderBy(_ => random.Next()).Take(count))),
            Enumerable.Range(0, RandomLists).Average(_ => Wrong(
                printed, lines.OrderByDescending(line => _weights[line.ParentKey]).ThenBy(_ => random.Next()).Take(count)))))];
    }

    /// <summary>Wrong first answers among a thousand unknowns, once some lines are checked.</summary>
    private double Wrong(Dictionary<SheetPlace, Derivative> printed, IEnumerable<SheetPlace> looked)
    {
        var seen = looked.Where(printed.ContainsKey).ToHashSet();
        var engine = new IdentificationEngine(seen.Count == 0 ? snapshot : TableSnapshot.Build(Checked(printed, seen), snapshot.Settings, snapshot.Estimates));
        var (wrong, all) = (0.0, 0.0);
        foreach (var (line, record) in printed)
        {
            snapshot.TryFindParent(line.ParentKey, out var parent);
            var weight = _weights[line.ParentKey];
            all += weight;
            foreach (var (node, share) in NormalNodes.Few)
            {
                var clear = Math.Round(record.HighCelsius + (node * ReadingCelsius), 1);
                var answer = engine.Weigh(new Observation
                {
                    Derivatives = [new DerivativeReading(line.KindKey, new MeltingRange(clear - SpanCelsius, clear), Preparation.Recrystallised)],
                });
                wrong += weight * share * (answer.Order[0] == parent ? 0 : 1);
            }
        }

        return 1000 * wrong / all;
    }

    private ReferenceTable Checked(Dictionary<SheetPlace, Derivative> printed, HashSet<SheetPlace> looked) => snapshot.Table with
    {
        Derivatives =
        [
            .. snapshot.Table.Derivatives.Select(record => looked.Contains(SheetPlace.Of(record)) && IsSame(record, printed[SheetPlace.Of(record)])
                ? record with { Verification = Verification.Read }
                : record),
            .. looked.Where(line => !snapshot.Table.Derivatives.Any(record => SheetPlace.Of(record) == line && IsSame(record, printed[line])))
                .Select(line => printed[line] with { Key = printed[line].Key + "-checked", Verification = Verification.Read }),
        ],
    };

    private static bool IsSame(Derivative one, Derivative other) =>
        Math.Abs(one.LowCelsius - other.LowCelsius) <= 0.05 && Math.Abs(one.HighCelsius - other.HighCelsius) <= 0.05;

    private static List<CheckingResult> Mean(IReadOnlyList<int> counts, List<List<WrongAnswers>> trials) =>
        [.. counts.Select((count, place) => new CheckingResult(
            count,
            new WrongAnswers(
                trials.Average(trial => trial[place].Before),
                trials.Average(trial => trial[place].First),
                trials.Average(trial => trial[place].Random),
                trials.Average(trial => trial[place].Commonest)),
            trials.Count(trial => trial[place].First <= trial[place].Random) / (double)trials.Count))];
}

/// <summary>Wrong first answers among a thousand unknowns.</summary>
/// <param name="Before">With the table as it was.</param>
/// <param name="First">With the first lines of the list checked.</param>
/// <param name="Random">With as many lines drawn at random checked; mean of twenty lists.</param>
/// <param name="Commonest">The same of the commonest compounds' lines; drawn at random among equals.</param>
public sealed record WrongAnswers(double Before, double First, double Random, double Commonest);

/// <summary>What checking some lines removes.</summary>
/// <param name="Count">Lines checked.</param>
/// <param name="Wrong">Means over the trials.</param>
/// <param name="NoWorse">Share of trials in which the first were no worse than those at random.</param>
public sealed record CheckingResult(int Count, WrongAnswers Wrong, double NoWorse)
{
    /// <summary>How many times as much is removed as by lines at random. Missing: NaN, those removed nothing.</summary>
    public double Times => Wrong.Before > Wrong.Random ? (Wrong.Before - Wrong.First) / (Wrong.Before - Wrong.Random) : double.NaN;
}
