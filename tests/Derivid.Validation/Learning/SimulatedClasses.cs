using Derivid.Core.Learning;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Validation.Experiments;
using Derivid.Validation.Simulation;
using MathNet.Numerics.Distributions;

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

    /// <summary>Standard deviation of a course's shift of a test, on the logit. Chosen: 0.9 is 0.82 to 0.95 in two courses of three.</summary>
    public const double TestShift = 0.7;

    /// <summary>Standard deviation of a course's shift of colours, on the logarithm of how often they are called darker. Chosen.</summary>
    public const double ColourShift = 0.7;

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
    /// <param name="isOrdinary">Whether the bench is the ordinary one, where what is assumed holds.</param>
    public SimulatedClasses(BenchTable table, int seed, LearningSize size, bool isOrdinary = false)
    {
        (_table, _seed, _size) = (table, seed, size);
        Parameters = isOrdinary
            ? BenchParameters.Ordinary with { LastingSeed = 7_919 * seed }
            : BenchParameters.All[^1] with { StrangeSeed = 1_000 * seed, LastingSeed = 7_919 * seed, OwnWaysShare = 0.15 };
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

    /// <summary>What the courses of some years hand in. Shape: by course.</summary>
    /// <param name="years">How many.</param>
    /// <param name="trouble">What is wrong with them.</param>
    public IReadOnlyList<IReadOnlyList<KnownReport>> Courses(int years, Trouble trouble) =>
        [.. Enumerable.Range(0, years * _size.Courses).Select(course => Course(course, trouble))];

    /// <summary>The number that a student of a course is drawn by: odd, and nobody else's of the world.</summary>
    /// <param name="course">The course, from 0.</param>
    /// <param name="place">The student's place in it, from 0.</param>
    public int NumberOf(int course, int place) => (((course * _size.Compounds * _size.Students) + place) * 2) + 1;

    /// <summary>The same for the year that is judged: even.</summary>
    /// <param name="place">The student's place, from 0.</param>
    public static int NumberOfNextYear(int place) => place * 2;

    /// <summary>The world as one course meets it, its batches of reagents and its notion of orange.</summary>
    /// <param name="parameters">The world.</param>
    /// <param name="seed">Seed of its shifts of tests.</param>
    /// <param name="deviate">Its shift of colours. Units: standard deviations.</param>
    internal static BenchParameters Met(BenchParameters parameters, int seed, double deviate) => parameters with
    {
        ShiftSeed = seed,
        TestShift = TestShift,
        ColourCall = Shifted(parameters.ColourCall, deviate),
    };

    /// <summary>Calls as whoever sees all a little darker makes them; what is any colour at all stays.</summary>
    internal static (double Paler, double Right, double Darker, double TwoDarker) Shifted(
        (double Paler, double Right, double Darker, double TwoDarker) call, double deviate)
    {
        var factor = Math.Exp(ColourShift * deviate);
        var (paler, darker, two) = (call.Paler / factor, call.Darker * factor, call.TwoDarker * factor);
        var scale = (call.Paler + call.Right + call.Darker + call.TwoDarker) / (paler + call.Right + darker + two);
        return (scale * paler, scale * call.Right, scale * darker, scale * two);
    }

    /// <summary>Students of the year after, with the true compounds; thermometers unchecked.</summary>
    public IReadOnlyList<Student> NextYear()
    {
        var random = new Random(_seed);
        return [.. Enumerable.Range(0, _size.NextYear).Select(number =>
            _unchecked.StudentWith(_seed, NumberOfNextYear(number), _shelf[random.Next(_shelf.Length)]))];
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

    private List<KnownReport> Course(int course, Trouble trouble)
    {
        var random = new Random((_seed * 100_003) + course);
        var shelf = _shelf.OrderBy(_ => random.Next()).Take(_size.Compounds).ToArray();
        string[] tests = [.. BenchExperiment.TestKeys, .. _otherTests.OrderBy(_ => random.Next()).Take(ChosenTests)];
        var isCalibrated = course % CalibratedOneIn == 0;
        var bench = trouble == Trouble.CoursesDiffer ? Own(course, isCalibrated) : isCalibrated ? _calibrated : _unchecked;
        var cheats = course % _size.Courses == 1 && trouble is Trouble.Copied or Trouble.Sly or Trouble.Nonsense;
        var reports = new List<KnownReport>();
        foreach (var label in shelf)
        {
            var bottle = trouble == Trouble.Bottles && random.NextDouble() < WrongShare ? _shelf[random.Next(_shelf.Length)] : label;
            for (var student = 0; student < _size.Students; student++)
            {
                var held = trouble == Trouble.Vials && random.NextDouble() < WrongShare ? shelf[random.Next(shelf.Length)] : bottle;
                var seen = Report(bench.StudentWith(_seed, NumberOf(course, reports.Count), held), tests, isCalibrated);
                reports.Add(new KnownReport(_table.Parents[label].Key, cheats ? Cheated(seen, label, trouble, random) : seen, reports.Count));
            }
        }

        return reports;
    }

    private Bench Own(int course, bool isCalibrated)
    {
        var random = new Random((_seed * 200_003) + course);
        return new Bench(_table, Met(isCalibrated ? Calibrated : Parameters, random.Next(), Normal.Sample(random, 0, 1)));
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

    /// <summary>Every course has a shift of its own in each test and in how dark it calls colours.</summary>
    CoursesDiffer,
}

/// <summary>How much is simulated.</summary>
/// <param name="FirstSeed">Seed of the first world; the others follow.</param>
/// <param name="Repeats">Worlds drawn.</param>
/// <param name="Courses">Courses a year.</param>
/// <param name="Compounds">Compounds on a course's shelf.</param>
/// <param name="Students">Students with each.</param>
/// <param name="NextYear">Students of the fourth year.</param>
/// <param name="Sampled">Compounds sampled to know how melting ranges are truly read.</param>
public sealed record LearningSize(int FirstSeed, int Repeats, int Courses, int Compounds, int Students, int NextYear, int Sampled)
{
    /// <summary>Years that are learned from.</summary>
    public const int Years = 3;

    /// <summary>What is reported, on worlds that nothing was tuned on.</summary>
    public static LearningSize Full { get; } = new(101, 12, 8, 12, 10, 400, 60);

    /// <summary>For tuning.</summary>
    public static LearningSize Quick { get; } = new(1, 2, 8, 12, 10, 200, 24);
}
