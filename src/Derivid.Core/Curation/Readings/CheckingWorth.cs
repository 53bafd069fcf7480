using Derivid.Core.Compounds;
using Derivid.Core.Ranking;
using Derivid.Core.Ranking.Distributions;
using Derivid.Core.Ranking.Forecasts;

namespace Derivid.Core.Curation.Readings;

/// <summary>What it is worth to look up a value that nobody has read: how many more first answers would be right.</summary>
/// <remarks>
/// An unknown that one kind of derivative is made of, and of which nothing else is known, is given the name of the compound that is the most
/// likely by the engine. For each unread line that is done twice for all that a source may print there: with the table as it
/// is, and with the printed value taken in as the verification desk takes it in. A source is taken to be right, and to print
/// something as far off, and as often, as the nearest source did of the lines of this table whose recalled values could be held
/// against one; of all kinds together, since there are few. So a line is worth the more, the commoner its compound and the
/// nearer others stand; what follows from several derivatives, colour and tests together isn't reckoned with, every kind counts
/// alike, and where two isomers were taken for one the distance is theirs.
/// Thread safety: immutable.
/// </remarks>
public sealed class CheckingWorth
{
    /// <summary>Fewer values held against a source tell nothing of the others. Chosen.</summary>
    public const int LeastDeviations = 20;

    // Half of what a reading commonly errs by. Chosen.
    private const double StepCelsius = 0.5;

    // Two readings no further apart than this are the same to whoever types them. Units: °C.
    private const double SameCelsius = 0.05;

    private const double Thousand = 1000;

    // More are rounding, which differs between processors.
    private const int Decimals = 6;

    private readonly TableSnapshot _snapshot;
    private readonly Func<string, string, double> _weight;
    private readonly IReadOnlyList<(double Celsius, double Share)> _deviations;
    private readonly ILookup<(string ParentKey, string KindKey), Derivative> _records;
    private readonly ILookup<string, List<Derivative>> _unread;

    private CheckingWorth(TableSnapshot snapshot, Func<string, string, double> weight, int agreed)
    {
        (_snapshot, _weight) = (snapshot, weight);
        List<double> all = [.. Deviations(snapshot.Table), .. Enumerable.Repeat(0.0, agreed)];
        _deviations = all.Count < LeastDeviations
            ? []
            : [.. all.GroupBy(each => each).OrderBy(group => group.Key).Select(group => (group.Key, (double)group.Count() / all.Count))];
        _records = snapshot.Table.Derivatives.ToLookup(record => (record.ParentKey, record.KindKey));
        _unread = Unread(snapshot.Table).ToLookup(line => line.Key.KindKey, line => line.ToList(), StringComparer.Ordinal);
    }

    /// <summary>Reckons it for every line of which no value was read or confirmed.</summary>
    /// <param name="snapshot">The table.</param>
    /// <param name="weight">
    /// How often a parent is the unknown of which a kind is made, by the keys of both; only shares count. Missing: as common as
    /// it is, whatever the kind.
    /// </param>
    /// <param name="agreed">Lines whose recalled value was found in a source, and that are no recalled ones any more.</param>
    /// <returns>
    /// Shape: most worth first, equals by key; empty where fewer than <see cref="LeastDeviations"/> lines can be held
    /// against a source.
    /// </returns>
    public static IReadOnlyList<LineWorth> Of(TableSnapshot snapshot, Func<string, string, double>? weight = null, int agreed = 0)
    {
        ArgumentNullException.ThrowIfNull(snapshot);
        var worth = new CheckingWorth(snapshot, weight ?? AsCommon(snapshot), agreed);
        return InOrder(snapshot.Kinds.SelectMany(worth.OfKind));
    }

    /// <summary>Reckons it for the unknowns of courses: the mean over them, each with its own shelf and all on it alike.</summary>
    /// <param name="snapshot">The table.</param>
    /// <param name="shelves">What each has on its shelf, of the kinds it makes, by the keys of parent and kind.</param>
    /// <param name="agreed">As for all.</param>
    /// <returns>Shape: as for all; lines that no course has are left out.</returns>
    public static IReadOnlyList<LineWorth> OfShelves(
        TableSnapshot snapshot, IReadOnlyList<IReadOnlySet<(string ParentKey, string KindKey)>> shelves, int agreed)
    {
        ArgumentNullException.ThrowIfNull(shelves);
        return InOrder(shelves
            .SelectMany(shelf => Of(snapshot, (parent, kind) => shelf.Contains((parent, kind)) ? 1 : 0, agreed)
                .Where(line => shelf.Contains((line.Record.ParentKey, line.Record.KindKey))))
            .GroupBy(line => line.Record)
            .Select(line => new LineWorth(line.Key, line.Sum(each => each.MoreRight) / shelves.Count)));
    }

    /// <summary>How far the nearest source prints from the nearest value recalled of a line, for each line that has both.</summary>
    /// <param name="table">The table.</param>
    /// <returns>Units: °C, a difference, rounded to halves. Shape: one a line, in no order.</returns>
    public static IReadOnlyList<double> Deviations(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        var memories = ReadingSheet.RecalledSources(table);
        return [.. table.Derivatives.GroupBy(SheetPlace.Of)
            .Select(line => line.ToLookup(record => memories.Contains(record.SourceKey)))
            .Where(line => line.Contains(true) && line.Contains(false))
            .Select(line => line[false].SelectMany(read => line[true].Select(recalled => read.HighCelsius - recalled.HighCelsius)).MinBy(Math.Abs))
            .Select(deviation => Math.Round(deviation / StepCelsius) * StepCelsius)];
    }

    /// <summary>Lines that the desk found as they were recalled: they are read ones now, and the readings alone remember that.</summary>
    /// <param name="table">The table.</param>
    /// <param name="readings">All readings. Shape: oldest first.</param>
    public static int Agreed(ReferenceTable table, IEnumerable<PrintedReading> readings)
    {
        ArgumentNullException.ThrowIfNull(table);
        var memories = ReadingSheet.RecalledSources(table);
        var recalled = table.Derivatives.Where(record => memories.Contains(record.SourceKey)).Select(SheetPlace.Of).ToHashSet();
        return ReadingSheet.ByPlace(table, readings).Count(line => line.Last().Verdict == ReadingVerdict.Agrees && !recalled.Contains(line.Key));
    }

    /// <summary>The lines of which no value was read or confirmed.</summary>
    /// <param name="table">The table.</param>
    /// <returns>Shape: a line's records, in the order of the table.</returns>
    public static IEnumerable<IGrouping<SheetPlace, Derivative>> Unread(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        return table.Derivatives.GroupBy(SheetPlace.Of).Where(line => line.All(record => record.Verification == Verification.Recalled));
    }

    private IEnumerable<LineWorth> OfKind(KindSnapshot kind)
    {
        var lines = _unread[kind.Kind.Key];
        var bench = KindBench.Of(kind, _snapshot, _weight);
        return bench is null || _deviations.Count == 0
            ? []
            : lines.Select(line => new LineWorth(line[0], Thousand * MoreRight(line, bench)));
    }

    private static Func<string, string, double> AsCommon(TableSnapshot snapshot)
    {
        var weights = snapshot.Parents.ToDictionary(
            parent => parent.Key, parent => snapshot.Settings.Commonness.Of(parent.Commonness), StringComparer.Ordinal);
        return (parent, _) => weights[parent];
    }

    private static IReadOnlyList<LineWorth> InOrder(IEnumerable<LineWorth> lines) =>
        [.. lines.OrderByDescending(line => Math.Round(line.MoreRight, Decimals)).ThenBy(line => line.Record.Key, StringComparer.Ordinal)];

    private double MoreRight(List<Derivative> line, KindBench bench)
    {
        _snapshot.TryFindParent(line[0].ParentKey, out var parent);
        var more = 0.0;
        foreach (var (celsius, share) in _deviations)
        {
            foreach (var record in line)
            {
                more += share / line.Count * bench.MoreRight(parent, record.HighCelsius + celsius, With(record, celsius, parent));
            }
        }

        return more;
    }

    // As the verification desk takes it in: the same makes the record a read one, another stands beside it. Handbooks are one
    // family, so nothing is confirmed by it.
    private ListedTemperature[] With(Derivative record, double celsius, int parent)
    {
        var records = _records[(record.ParentKey, record.KindKey)];
        var printed = record with
        {
            LowCelsius = record.HighCelsius + celsius,
            HighCelsius = record.HighCelsius + celsius,
            SourceKey = "",
            Verification = Verification.Read,
        };
        var values = (Math.Abs(celsius) > SameCelsius
            ? records.Append(printed)
            : records.Select(each => each == record ? each with { Verification = Verification.Read } : each)).Select(KindSnapshot.RowOf);
        return _snapshot.ByParent(values, _snapshot.Settings.DerivativeMelting)[parent];
    }

    /// <summary>One kind melted of every parent: who is named at which reading.</summary>
    private sealed class KindBench
    {
        private readonly ListedTemperatures _listed;
        private readonly ReadingError _error;
        private readonly ReadingNoise _noise;
        private readonly double[] _shares;
        private readonly double _lowest;
        private readonly (int Leader, double First, double Second)[] _leading;

        private KindBench(KindSnapshot kind, ModelSettings settings, double[] shares)
        {
            (_listed, _shares) = (kind.Listed, shares);
            _error = TemperatureForecast.ExpectedError(_listed.Scatter, settings);
            _noise = _listed.NoiseOf(_error);
            _lowest = _listed.Scatter.LowestCelsius;
            var cells = (int)((_listed.Scatter.HighestCelsius - _lowest) / StepCelsius);
            _leading = new (int, double, double)[cells];
            var (scores, relative) = (new double[shares.Length], new double[shares.Length]);
            for (var cell = 0; cell < cells; cell++)
            {
                _listed.Weigh(CelsiusOf(cell), _error, scores, relative);
                var (leader, first, second) = (-1, 0.0, 0.0);
                for (var parent = 0; parent < scores.Length; parent++)
                {
                    scores[parent] *= shares[parent];
                    if (scores[parent] > first)
                    {
                        (leader, first, second) = (parent, scores[parent], first);
                    }
                    else
                    {
                        second = Math.Max(second, scores[parent]);
                    }
                }

                _leading[cell] = (leader, first, second);
            }
        }

        /// <summary>Missing: null, nobody makes the kind.</summary>
        public static KindBench? Of(KindSnapshot kind, TableSnapshot snapshot, Func<string, string, double> weight)
        {
            var weights = snapshot.Parents.Select(parent => weight(parent.Key, kind.Kind.Key)).ToList();
            var total = weights.Sum();

            // Also of what doesn't form the kind: a reagent for a few serves few.
            return total > 0
                ? new KindBench(kind, snapshot.Settings, [.. weights.Select((share, parent) => kind.Listed.CanHave(parent) ? share / total : 0)])
                : null;
        }

        /// <summary>
        /// By how much more often the first answer is right, once a parent has other values: what it shows is its crystals' true
        /// melting point, read as a bench reads; what others show is as the engine foresees.
        /// </summary>
        public double MoreRight(int parent, double trueCelsius, ListedTemperature[] values)
        {
            if (_shares[parent] == 0)
            {
                return 0;
            }

            var truth = new ListedTemperature(trueCelsius, trueCelsius, false, Verification.Read, null, "", 1);
            var listed = _listed.Of(parent, values, _error, _noise);
            var more = 0.0;
            for (var cell = 0; cell < _leading.Length; cell++)
            {
                var celsius = CelsiusOf(cell);
                var (leader, first, second) = _leading[cell];
                var others = leader == parent ? second : first;
                var isNamed = leader == parent;
                var willBe = _shares[parent] * listed.DensityAt(celsius) > others;
                if (isNamed != willBe)
                {
                    var own = _shares[parent] * _noise.At(celsius - trueCelsius, truth);
                    more += willBe ? own - others : others - own;
                }
            }

            return more * StepCelsius;
        }

        private double CelsiusOf(int cell) => _lowest + ((cell + 0.5) * StepCelsius);
    }
}

/// <summary>What it is worth to look one line up.</summary>
/// <param name="Record">The record that names the line.</param>
/// <param name="MoreRight">More right first answers among a thousand unknowns that this kind of derivative is made of. Bounds: may be a little below 0.</param>
public sealed record LineWorth(Derivative Record, double MoreRight);
