using Derivid.Core.Learning;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Validation.Experiments;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Learning;

/// <summary>Years of courses on a strange bench whose rates are drawn anew for each world.</summary>
/// <remarks>
/// A course has a shelf of compounds drawn from those that give a listed 2,4-dinitrophenylhydrazone, and as many students for each. A student makes two
/// derivatives and runs the three tests of the harness and two more that the course chose. One course in four has checked its thermometers.
/// </remarks>
public sealed class SimulatedClasses
{
    /// <summary>Share of labels that are wrong where some are. Source: the task.</summary>
    public const double WrongShare = 0.1;

    private const double CalibratedOffsetCelsius = 0.3;
    private const double SlyCelsius = 1;
    private const int ChosenTests = 2;
    private const int CalibratedOneIn = 4;

    private readonly BenchTable _table;
    private readonly int _seed;
    private readonly LearningSize _size;
    private readonly Bench _unchecked;
    private readonly Bench _calibrated;
    private readonly int[] _shelf;
    private readonly string[] _otherTests;
    private readonly BookAnswers _book;

    /// <summary>Draws a world.</summary>
    /// <param name="table">The table.</param>
    /// <param name="seed">The world's seed.</param>
    /// <param name="size">How large the classes are.</param>
    public SimulatedClasses(BenchTable table, int seed, LearningSize size)
    {
        (_table, _seed, _size) = (table, seed, size);
        Parameters = BenchParameters.All[^1] with { StrangeSeed = 1_000 * seed, LastingSeed = 7_919 * seed, OwnWaysShare = 0.15 };
        _unchecked = new Bench(table, Parameters);
        _calibrated = new Bench(table, Calibrated);
        _shelf = [.. Enumerable.Range(0, table.Parents.Count).Where(parent => table.Records(BenchTable.HydrazoneKey)[parent].Length > 0)];
        _otherTests = [.. table.Table.SpotTests.Select(test => test.Key).Except(BenchExperiment.TestKeys, StringComparer.Ordinal)];
        _book = new BookAnswers(table);
    }

    /// <summary>The world, thermometers unchecked.</summary>
    public BenchParameters Parameters { get; }

    /// <summary>The world, thermometers checked.</summary>
    public BenchParameters Calibrated => Parameters with { OffsetMeanCelsius = 0, OffsetCelsius = CalibratedOffsetCelsius };

    /// <summary>The courses of some years.</summary>
    /// <param name="years">How many.</param>
    /// <param name="trouble">What is wrong with them.</param>
    public IReadOnlyList<ClosedCourse> Courses(int years, Trouble trouble) =>
        [.. Enumerable.Range(0, years * _size.Courses).Select(course => Course(course, trouble))];

    /// <summary>Students of the year after, with the true compounds; thermometers unchecked.</summary>
    public IReadOnlyList<Student> NextYear()
    {
        var random = new Random(_seed);
        return [.. Enumerable.Range(0, _size.NextYear).Select(number =>
            _unchecked.StudentWith((31 * _seed) + 5, number, _shelf[random.Next(_shelf.Length)]))];
    }

    /// <summary>A student's report, as a class hands it in.</summary>
    /// <param name="student">What was seen.</param>
    /// <param name="testKeys">The tests run.</param>
    /// <param name="isCalibrated">Whether the thermometer was checked.</param>
    public static Observation Report(Student student, IReadOnlyList<string> testKeys, bool isCalibrated) => student.Observe(EvidenceSets.Rows[^1], testKeys) with
    {
        Thermometer = isCalibrated ? Checked : ThermometerCorrection.None,
    };

    // Read as they should: what a correction leaves is in the bench's offset.
    private static ThermometerCorrection Checked { get; } = new([new(80, 80), new(122, 122), new(160, 160), new(236, 236)]);

    private ClosedCourse Course(int course, Trouble trouble)
    {
        var random = new Random((_seed * 100_003) + course);
        var shelf = _shelf.OrderBy(_ => random.Next()).Take(_size.Compounds).ToArray();
        string[] tests = [.. BenchExperiment.TestKeys, .. _otherTests.OrderBy(_ => random.Next()).Take(ChosenTests)];
        var isCalibrated = course % CalibratedOneIn == 0;
        var bench = isCalibrated ? _calibrated : _unchecked;
        var cheats = course % _size.Courses == 1 && trouble is Trouble.Copied or Trouble.Sly or Trouble.Nonsense;
        var reports = new List<KnownReport>();
        foreach (var label in shelf)
        {
            var bottle = trouble == Trouble.Bottles && random.NextDouble() < WrongShare ? _shelf[random.Next(_shelf.Length)] : label;
            for (var student = 0; student < _size.Students; student++)
            {
                var held = trouble == Trouble.Vials && random.NextDouble() < WrongShare ? shelf[random.Next(shelf.Length)] : bottle;
                var number = (((course * _size.Compounds) + reports.Count) * 2) + 1;
                var seen = Report(bench.StudentWith(_seed, number, held), tests, isCalibrated);
                reports.Add(new KnownReport(_table.Parents[label].Key, cheats ? Cheated(seen, label, trouble, random) : seen));
            }
        }

        return new ClosedCourse(reports, hasOptedIn: true, areGradesPublished: true);
    }

    private Observation Cheated(Observation seen, int label, Trouble trouble, Random random) => trouble switch
    {
        Trouble.Copied => _book.Copied(seen, label, 0, random),
        Trouble.Sly => _book.Copied(seen, label, SlyCelsius, random),
        _ => _book.Nonsense(seen, random),
    };
}

/// <summary>What is wrong with the classes that are learned from; the year that is judged has none of it.</summary>
public enum Trouble
{
    /// <summary>No more than the bench has anyway: 2 % of vials are of another compound.</summary>
    None,

    /// <summary>One vial in ten is of another compound of the course.</summary>
    Vials,

    /// <summary>One bottle in ten, with all that was filled from it, is of another compound.</summary>
    Bottles,

    /// <summary>One course a year writes down the book.</summary>
    Copied,

    /// <summary>One course a year writes down the book, with a degree of noise on the temperatures.</summary>
    Sly,

    /// <summary>One course a year makes its outcomes and temperatures up.</summary>
    Nonsense,
}

/// <summary>How much is simulated.</summary>
/// <param name="Repeats">Worlds drawn.</param>
/// <param name="Courses">Courses a year.</param>
/// <param name="Compounds">Compounds on a course's shelf.</param>
/// <param name="Students">Students with each.</param>
/// <param name="NextYear">Students of the fourth year.</param>
/// <param name="Sampled">Compounds sampled to know how melting ranges are truly read.</param>
public sealed record LearningSize(int Repeats, int Courses, int Compounds, int Students, int NextYear, int Sampled)
{
    /// <summary>Years that are learned from.</summary>
    public const int Years = 3;

    /// <summary>What is reported.</summary>
    public static LearningSize Full { get; } = new(8, 8, 12, 10, 400, 60);

    /// <summary>For tuning.</summary>
    public static LearningSize Quick { get; } = new(2, 8, 12, 10, 200, 24);
}
