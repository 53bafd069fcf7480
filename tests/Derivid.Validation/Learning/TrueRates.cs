using Derivid.Core.Compounds;
using Derivid.Core.Learning;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Derivid.Core.Teaching.ClassView;
using Derivid.Validation.Simulation;
using MathNet.Numerics.Distributions;

namespace Derivid.Validation.Learning;

/// <summary>What is true of one simulated world, to hold what was learned against.</summary>
/// <remarks>Rates and calls exactly; how melting ranges are read by a sample of compounds with <see cref="Draws"/> students each.</remarks>
internal sealed class TrueRates
{
    private const int Draws = 200;
    private const int Seed = 4_711;

    // Enough for a mean over a normal.
    private const int Quantiles = 40;

    private readonly BenchTable _table;
    private readonly BenchParameters _bench;
    private readonly BenchChemistry _chemistry;
    private readonly Dictionary<string, int> _index;
    private readonly double[][] _calls;
    private readonly double[] _deviates;

    /// <param name="table">The table.</param>
    /// <param name="parameters">The world.</param>
    /// <param name="doCoursesDiffer">Whether rates are those of a course on average, not of one without a shift.</param>
    public TrueRates(BenchTable table, BenchParameters parameters, bool doCoursesDiffer = false)
    {
        (_table, _bench) = (table, parameters);
        _deviates = doCoursesDiffer ? [.. Enumerable.Range(0, Quantiles).Select(i => Normal.InvCDF(0, 1, (i + 0.5) / Quantiles))] : [0];
        _chemistry = new BenchChemistry(table, parameters);
        _index = table.Parents.Select((parent, i) => (parent.Key, i)).ToDictionary(StringComparer.Ordinal);
        _calls = [.. table.Parents.Select((_, parent) => Calls(parent))];
    }

    /// <summary>Probability that a student writes a positive down.</summary>
    public double Positive(string testKey, string parentKey)
    {
        var (turned, misread) = (_bench.ContaminationShare, _bench.TestMistakeShare);
        var flipped = (turned * (1 - misread)) + (misread * (1 - turned));
        var centre = _chemistry.Positive(testKey, _index[parentKey]);
        var clean = _deviates.Average(deviate => BenchChemistry.Shifted(centre, SimulatedClasses.TestShift * deviate));
        return (clean * (1 - flipped)) + ((1 - clean) * flipped);
    }

    /// <summary>Whether a compound answers a test by a rate of its own.</summary>
    public bool GoesOwnWay(string testKey, string parentKey) => _chemistry.GoesOwnWay(testKey, _index[parentKey]);

    /// <summary>Probability of each colour being called for a parent, in rank order.</summary>
    public double[] Called(string parentKey) => _calls[_index[parentKey]];

    /// <summary>The table and settings of somebody who was told all rates: those of tests compound by compound, those of colours by class.</summary>
    public (ReferenceTable Table, ModelSettings Settings) Told(TableSnapshot snapshot)
    {
        var table = snapshot.Table;
        var questions = table.Questions.ToDictionary(question => question.Key, StringComparer.Ordinal);
        var expected = new ExpectedOutcomes(table);
        var outcomes = snapshot.Parents.Select((parent, i) => expected.Of(parent.Key, snapshot.Features[i])).ToList();
        var responses = table.SpotTests.SelectMany((test, place) => snapshot.Parents.Select((parent, i) =>
        {
            var turned = questions[test.QuestionKey].ContraryRate;
            var clean = (Positive(test.Key, parent.Key) - (turned * outcomes[i][place].PositiveRateIfContrary)) / (1 - turned);
            return new SpotTestResponse(
                test.Key, i + 1, $"parent:{parent.Key}", Math.Clamp(clean, 0.01, 0.99), outcomes[i][place].Response?.AnswersYes == true, false, "true", null);
        }));
        return (
            table with
            {
                Responses = [.. responses],
                ColourExpectations = [.. table.ColourExpectations.Select(row => row.KindKey != BenchTable.HydrazoneKey ? row : row with
                {
                    Weights = _chemistry.ColourClasses.First(one => one.Class.ToString() == row.StructureClass).Weights,
                })],
            },
            snapshot.Settings with { Colour = snapshot.Settings.Colour with { RecordedShare = _bench.RecordedColourShare } });
    }

    /// <summary>How melting ranges are read in this world.</summary>
    /// <param name="parents">Compounds that classes melted; a sample of them is taken.</param>
    /// <param name="calibrated">The same world with checked thermometers.</param>
    /// <param name="most">How many to take.</param>
    public TrueReadings Readings(IEnumerable<string> parents, BenchParameters calibrated, int most)
    {
        var sample = parents.Select(key => _index[key]).Order().ToArray();
        var count = Math.Min(most, sample.Length);
        sample = [.. Enumerable.Range(0, count).Select(i => sample[i * sample.Length / count])];
        var cells = new[] { (IsCalibrated: false, Parameters: _bench), (IsCalibrated: true, Parameters: calibrated) }
            .Select(world => (world.IsCalibrated, Bench: new Bench(_table, world.Parameters with { MislabelledShare = 0 })))
            .SelectMany(world => sample.SelectMany(parent => Enumerable.Range(0, Draws)
                .SelectMany(draw => world.Bench.StudentWith(Seed, (parent * Draws) + draw, parent).Derivatives.Values)
                .Where(reading => reading.KindKey is BenchTable.HydrazoneKey or BenchTable.SemicarbazoneKey)
                .GroupBy(reading => (reading.KindKey, reading.Preparation))
                .Select(group => (Key: new CellKey(_table.Parents[parent].Key, group.Key.KindKey, group.Key.Preparation, world.IsCalibrated), Ranges: Near(group)))))
            .ToDictionary(cell => cell.Key, cell => cell.Ranges);
        return new TrueReadings(cells);
    }

    private static (Moments Clear, Moments Span) Near(IEnumerable<DerivativeReading> readings)
    {
        // Gross mistakes are left out as far as the sieve's window does.
        var ranges = readings.Select(reading => reading.Range!.Value).ToList();
        var median = Robust.Median(ranges.Select(range => range.ClearPointCelsius));
        List<MeltingRange> near = [.. ranges.Where(range => Math.Abs(range.ClearPointCelsius - median) <= CourseSieve.WindowCelsius)];
        return (Moments.Of([.. near.Select(range => range.ClearPointCelsius)]), Moments.Of([.. near.Select(range => range.SpanCelsius)]));
    }

    private double[] Calls(int parent)
    {
        var shares = _chemistry.ColourShares(parent);
        var calls = new double[shares.Length];
        foreach (var deviate in _deviates)
        {
            var met = _bench with { ColourCall = SimulatedClasses.Shifted(_bench.ColourCall, deviate) };
            for (var colour = 0; colour < shares.Length; colour++)
            {
                foreach (var (call, share) in ColourCalls.Of(colour, shares.Length, met).Index())
                {
                    calls[call] += shares[colour] * share / _deviates.Length;
                }
            }
        }

        return calls;
    }
}

/// <summary>Readings of one derivative under one preparation and one sort of thermometer.</summary>
internal readonly record struct CellKey(string ParentKey, string KindKey, Preparation Preparation, bool IsCalibrated);

/// <summary>How melting ranges are truly read.</summary>
internal sealed class TrueReadings(IReadOnlyDictionary<CellKey, (Moments Clear, Moments Span)> cells)
{
    /// <summary>Mean clear point read. Units: °C. Missing: null, not sampled.</summary>
    public double? ClearPoint(CellKey key) => cells.TryGetValue(key, out var cell) ? cell.Clear.Mean : null;

    /// <summary>Spread of clear points within a cell. Units: °C.</summary>
    public double Spread(Preparation preparation, bool isCalibrated) => Math.Sqrt(Of(preparation, isCalibrated).Average(cell => cell.Clear.Spread * cell.Clear.Spread));

    /// <summary>Mean width. Units: °C.</summary>
    public double Span(Preparation preparation, bool isCalibrated) => Of(preparation, isCalibrated).Average(cell => cell.Span.Mean);

    /// <summary>How far crude crystals melt lower. Units: °C.</summary>
    public double CrudeDepression() => cells
        .Where(cell => cell.Key.Preparation == Preparation.Crude)
        .Average(cell => cells[cell.Key with { Preparation = Preparation.Recrystallised }].Clear.Mean - cell.Value.Clear.Mean);

    private IEnumerable<(Moments Clear, Moments Span)> Of(Preparation preparation, bool isCalibrated) =>
        cells.Where(cell => cell.Key.Preparation == preparation && cell.Key.IsCalibrated == isCalibrated).Select(cell => cell.Value);
}
