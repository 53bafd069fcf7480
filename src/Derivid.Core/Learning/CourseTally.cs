using Derivid.Core.Observations;

namespace Derivid.Core.Learning;

/// <summary>What one closed course tells of its compounds: counts, means and spreads, and of no student.</summary>
/// <remarks>
/// Whatever rests on fewer than <see cref="LeastStudents"/> students is withheld, the compound as a whole and each figure of
/// it, and nothing says how many were left out. A count within a figure may still be one ("one of nine called it red"), so a tally is for learning from and is not to be shown.
/// Made by <see cref="CourseSieve"/>. Thread safety: immutable.
/// </remarks>
/// <param name="Compounds">Shape: by key of the parent; empty where the course as a whole does not count.</param>
/// <param name="Verdict">Whether the course counts, and why not.</param>
public sealed record CourseTally(IReadOnlyList<CompoundTally> Compounds, CourseVerdict Verdict)
{
    /// <summary>Students that anything has to rest on. Source: the task; fewer could point at a person.</summary>
    public const int LeastStudents = 5;
}

/// <summary>Whether the reports of a course can be learned from.</summary>
public enum CourseVerdict
{
    /// <summary>They can.</summary>
    Counts,

    /// <summary>The clear points are nearer to the printed values than thermometer and eye allow: they were copied.</summary>
    Copied,

    /// <summary>Most reports fit another compound than the one on the label.</summary>
    DoesNotFit,
}

/// <summary>What a course tells of one compound.</summary>
/// <param name="ParentKey">The compound.</param>
/// <param name="SpotTests">Shape: by key of the test.</param>
/// <param name="Colours">Shape: by key of the kind.</param>
/// <param name="Meltings">Shape: by key of the kind, preparation, and whether thermometers were calibrated.</param>
/// <param name="Precipitates">Shape: by key of the kind.</param>
public sealed record CompoundTally(
    string ParentKey,
    IReadOnlyList<SpotTestTally> SpotTests,
    IReadOnlyList<ColourTally> Colours,
    IReadOnlyList<MeltingTally> Meltings,
    IReadOnlyList<PrecipitateTally> Precipitates);

/// <summary>How a spot test turned out; doubtful outcomes are left out.</summary>
/// <param name="TestKey">The test.</param>
/// <param name="Positive">Clear positives.</param>
/// <param name="Negative">Clear negatives.</param>
public sealed record SpotTestTally(string TestKey, int Positive, int Negative);

/// <summary>Which colours were called.</summary>
/// <param name="KindKey">The derivative kind.</param>
/// <param name="Calls">Shape: one count a colour that has a rank, in rank order.</param>
public sealed record ColourTally(string KindKey, IReadOnlyList<int> Calls);

/// <summary>Where a derivative was seen to melt, corrected as the reports' thermometers allow.</summary>
/// <remarks>Readings farther than <see cref="CourseSieve.WindowCelsius"/> from the others' median are left out.</remarks>
/// <param name="KindKey">The derivative kind.</param>
/// <param name="Preparation">What was done to the crystals.</param>
/// <param name="IsCalibrated">Whether the thermometers had been checked on standards.</param>
/// <param name="ClearPoint">Units: °C.</param>
/// <param name="Span">Width of the range. Units: °C.</param>
public sealed record MeltingTally(
    string KindKey, Preparation Preparation, bool IsCalibrated, Moments ClearPoint, Moments Span);

/// <summary>What came when the compound was mixed with a kind's reagent.</summary>
/// <param name="KindKey">The derivative kind.</param>
/// <param name="Came">How often crystals or an oil came.</param>
/// <param name="Nothing">How often nothing came.</param>
public sealed record PrecipitateTally(string KindKey, int Came, int Nothing);

/// <summary>Count, mean and spread of some readings.</summary>
/// <param name="Count">Readings.</param>
/// <param name="Mean">Their mean.</param>
/// <param name="Spread">Their standard deviation, with one less than the count beneath; 0 for a single one.</param>
public readonly record struct Moments(int Count, double Mean, double Spread)
{
    /// <summary>Takes readings together.</summary>
    /// <param name="values">Shape: at least one.</param>
    public static Moments Of(IReadOnlyCollection<double> values)
    {
        ArgumentNullException.ThrowIfNull(values);
        var mean = values.Average();
        var squares = values.Sum(value => (value - mean) * (value - mean));
        return new Moments(values.Count, mean, values.Count > 1 ? Math.Sqrt(squares / (values.Count - 1)) : 0);
    }
}
