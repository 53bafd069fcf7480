using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Learning;

/// <summary>Where classes saw a derivative melt: what a record of the grade "measured" would say.</summary>
/// <remarks>
/// The mean is of what was read, so that impurity and the classes' thermometers are in it; the interval is of that mean, not of
/// the pure compound's melting point. It is nothing to shrink to the printed value that it may be held against.
/// </remarks>
/// <param name="ParentKey">The compound.</param>
/// <param name="KindKey">The derivative kind.</param>
/// <param name="Preparation">What was done to the crystals.</param>
/// <param name="IsCalibrated">Whether the thermometers had been checked.</param>
/// <param name="Courses">How many courses melted it.</param>
/// <param name="Count">Readings.</param>
/// <param name="ClearPointCelsius">Mean clear point. Units: °C.</param>
/// <param name="SpreadCelsius">Standard deviation of one reading, shrunk to what is assumed. Units: °C.</param>
public sealed record MeasuredMelting(
    string ParentKey,
    string KindKey,
    Preparation Preparation,
    bool IsCalibrated,
    int Courses,
    int Count,
    LearnedFigure ClearPointCelsius,
    double SpreadCelsius)
{
    /// <summary>Standard deviation of the readings themselves, with one less than the count beneath. Units: °C.</summary>
    public required double SampleSpreadCelsius { get; init; }

    /// <summary>Gathers them.</summary>
    /// <param name="courses">The courses that count.</param>
    /// <param name="settings">What is assumed of spreads.</param>
    /// <returns>Shape: by parent, kind, preparation, uncalibrated first.</returns>
    public static IReadOnlyList<MeasuredMelting> Of(IReadOnlyList<CourseTally> courses, ModelSettings settings)
    {
        ArgumentNullException.ThrowIfNull(courses);
        ArgumentNullException.ThrowIfNull(settings);
        return
        [
            .. courses.SelectMany(course => course.Compounds.SelectMany(compound => compound.Meltings.Select(cell => (compound.ParentKey, Cell: cell))))
                .GroupBy(read => (read.ParentKey, read.Cell.KindKey, read.Cell.Preparation, read.Cell.IsCalibrated))
                .OrderBy(group => group.Key.ParentKey, StringComparer.Ordinal).ThenBy(group => group.Key.KindKey, StringComparer.Ordinal)
                .ThenBy(group => group.Key.Preparation).ThenBy(group => group.Key.IsCalibrated)
                .Select(group => Of(group.Key, [.. group.Select(read => read.Cell.ClearPoint)], settings)),
        ];
    }

    private static MeasuredMelting Of(
        (string Parent, string Kind, Preparation Preparation, bool IsCalibrated) key, List<Moments> cells, ModelSettings settings)
    {
        var count = cells.Sum(cell => cell.Count);
        var mean = cells.Sum(cell => cell.Mean * cell.Count) / count;
        var squares = cells.Sum(cell => ((cell.Count - 1) * cell.Spread * cell.Spread) + (cell.Count * (cell.Mean - mean) * (cell.Mean - mean)));

        // Five readings tell little of their own spread, so what is assumed counts as ReadingLearning.Worth more.
        var assumed = ReadingLearning.AssumedSpread(settings, key.Preparation, key.IsCalibrated);
        var freedom = ReadingLearning.Worth + count - 1;
        var spread = Math.Sqrt(((ReadingLearning.Worth * assumed * assumed) + squares) / freedom);
        var reach = ReadingLearning.StudentDeviate(freedom) * spread / Math.Sqrt(count);
        return new MeasuredMelting(
            key.Parent, key.Kind, key.Preparation, key.IsCalibrated, cells.Count, count, new LearnedFigure(mean, mean - reach, mean + reach), spread)
        {
            SampleSpreadCelsius = Math.Sqrt(squares / (count - 1)),
        };
    }
}
