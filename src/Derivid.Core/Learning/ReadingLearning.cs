using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Learning;

/// <summary>How classes read melting ranges: spread of clear points, widths, and how far crude crystals melt lower.</summary>
/// <remarks>
/// All from differences within a cell, the readings of one derivative of one compound in one course, so that an error of the
/// listed value drops out. Variances and means are shrunk to what the model's settings foretell, worth
/// <see cref="Worth"/> readings (normal-inverse-gamma). Cells differ more than readings of one normal would, so intervals go by how far cells
/// are apart, by the scatter within cells where that is more, and by what is assumed. Thread safety: immutable.
/// </remarks>
/// <param name="Preparations">Shape: by preparation, uncalibrated first; those of which nothing was counted are left out.</param>
/// <param name="CrudeDepressionCelsius">
/// How far crude crystals clear below recrystallised ones, on average. Units: °C. Missing: null, no course melted both.
/// </param>
public sealed record ReadingLearning(IReadOnlyList<LearnedPreparation> Preparations, LearnedFigure? CrudeDepressionCelsius)
{
    /// <summary>How many readings an assumed figure is worth. Chosen: it is soon outweighed; half or twice moves little.</summary>
    public const double Worth = 10;

    // Standard normal deviate of the tail. Source: Abramowitz & Stegun (1964), Table 26.5, as 1.64485.
    private const double Deviate = 1.64485;

    /// <summary>Learns.</summary>
    /// <param name="courses">The courses that count.</param>
    /// <param name="settings">What is assumed.</param>
    public static ReadingLearning Of(IReadOnlyList<CourseTally> courses, ModelSettings settings)
    {
        ArgumentNullException.ThrowIfNull(courses);
        ArgumentNullException.ThrowIfNull(settings);
        var cells = courses.SelectMany(course => course.Compounds.SelectMany(compound => compound.Meltings)).ToList();
        return new ReadingLearning(
            [.. cells.GroupBy(cell => (cell.Preparation, cell.IsCalibrated))
                .OrderBy(group => group.Key.Preparation).ThenBy(group => group.Key.IsCalibrated)
                .Select(group => Learned(group.Key.Preparation, group.Key.IsCalibrated, [.. group], settings))],
            Depression(courses, settings));
    }

    /// <summary>Standard deviation of clear points that the settings foretell. Units: °C.</summary>
    internal static double AssumedSpread(ModelSettings settings, Preparation preparation, bool isCalibrated)
    {
        var thermometer = isCalibrated ? settings.Care.CalibratedCelsius : settings.Care.UncheckedCelsius;
        var reader = settings.Care.ReaderCelsius(settings.DerivativeMelting.ReadingCelsius, AssumedSpan(settings, preparation));
        return Math.Sqrt((thermometer * thermometer) + (reader * reader) + DepressionVariance(settings, ImpureShare(settings, preparation)));
    }

    /// <summary>Mean width that the settings foretell, wet crystals left out. Units: °C.</summary>
    internal static double AssumedSpan(ModelSettings settings, Preparation preparation) => double.Lerp(
        settings.Depression.PureSpanCelsius, settings.Depression.ImpureSpanCelsius, ImpureShare(settings, preparation));

    /// <summary>Mean depression of an impure sample of mean width. Units: °C.</summary>
    internal static double ImpureDepression(DepressionSettings settings) =>
        settings.BaseCelsius + (settings.PerSpanCelsius * settings.ImpureSpanCelsius);

    /// <summary>Variance that depression adds: exponential for some samples, none for the others.</summary>
    internal static double DepressionVariance(ModelSettings settings, double share)
    {
        var mean = ImpureDepression(settings.Depression);
        return mean * mean * share * (2 - share);
    }

    internal static double ImpureShare(ModelSettings settings, Preparation preparation) =>
        settings.Depression.PurityOf(null, preparation).ImpureShare;

    /// <summary>An interval about a mean of cells, which weigh by their readings.</summary>
    /// <remarks>
    /// The error is that of the cells about their own mean, or of readings within cells where that is more, with what the assumed figure, worth
    /// <see cref="Worth"/> readings, may itself be off, as far as readings scatter and as far as the cells say that it is.
    /// </remarks>
    /// <param name="cells">Value and readings of each. Shape: at least one.</param>
    /// <param name="assumed">What they are shrunk to.</param>
    /// <param name="within">Variance of the value of a cell of one reading, by the scatter within cells.</param>
    internal static LearnedFigure OfCells(IReadOnlyList<(double Value, double Count)> cells, double assumed, double within)
    {
        var count = cells.Sum(cell => cell.Count);
        var own = cells.Sum(cell => cell.Value * cell.Count) / count;
        var mean = ((Worth * assumed) + (own * count)) / (Worth + count);
        var between = cells.Sum(cell => Square(cell.Count * (cell.Value - own))) / (1 - (1.0 / Math.Max(cells.Count, 2)));
        var prior = Math.Max(Worth * within, Square(Worth * (own - assumed)));
        var error = Math.Sqrt(Math.Max(between, count * within) + prior) / (Worth + count);
        var reach = StudentDeviate(Math.Max(cells.Count - 1, 1)) * error;
        return new LearnedFigure(mean, mean - reach, mean + reach);
    }

    private static double Square(double value) => value * value;

    /// <summary>Deviate of Student's distribution, by its first two corrections. Source: Abramowitz &amp; Stegun (1964), 26.7.5.</summary>
    internal static double StudentDeviate(double freedom)
    {
        var (third, fifth) = (Deviate * Deviate * Deviate, Deviate * Deviate * Deviate * Deviate * Deviate);
        return Deviate + ((third + Deviate) / (4 * freedom)) + (((5 * fifth) + (16 * third) + (3 * Deviate)) / (96 * freedom * freedom));
    }

    private static LearnedPreparation Learned(Preparation preparation, bool isCalibrated, List<MeltingTally> cells, ModelSettings settings)
    {
        var assumed = AssumedSpread(settings, preparation, isCalibrated);
        var span = AssumedSpan(settings, preparation);
        // Of a variance by chi-square: twice its square for each degree of freedom. Widths are assumed to scatter as much as they are wide, exponentially.
        var spread = Pooled(cells.Select(cell => cell.ClearPoint), assumed * assumed);
        var variance = OfCells([.. cells.Select(cell => (Square(cell.ClearPoint.Spread), cell.ClearPoint.Count - 1.0))], assumed * assumed, 2 * spread * spread);
        return new LearnedPreparation(
            preparation,
            isCalibrated,
            cells.Sum(cell => cell.ClearPoint.Count),
            new LearnedFigure(Math.Sqrt(variance.Mean), Math.Sqrt(Math.Max(variance.Low, 0)), Math.Sqrt(variance.High)),
            OfCells([.. cells.Select(cell => (cell.Span.Mean, (double)cell.Span.Count))], span, Pooled(cells.Select(cell => cell.Span), span * span)));
    }

    /// <summary>Variance within cells, shrunk to an assumed one.</summary>
    private static double Pooled(IEnumerable<Moments> cells, double assumed)
    {
        var (squares, freedom) = (Worth * assumed, Worth);
        foreach (var cell in cells)
        {
            (squares, freedom) = (squares + ((cell.Count - 1) * cell.Spread * cell.Spread), freedom + cell.Count - 1);
        }

        return squares / freedom;
    }

    private static LearnedFigure? Depression(IReadOnlyList<CourseTally> courses, ModelSettings settings)
    {
        var differences = (
            from course in courses
            from compound in course.Compounds
            from cells in compound.Meltings.GroupBy(cell => (cell.KindKey, cell.IsCalibrated))
            let pure = cells.FirstOrDefault(cell => cell.Preparation == Preparation.Recrystallised)
            let crude = cells.FirstOrDefault(cell => cell.Preparation == Preparation.Crude)
            where pure is not null && crude is not null
            // Readings that tell a difference as well as two means do.
            let worth = 1 / ((1.0 / pure.ClearPoint.Count) + (1.0 / crude.ClearPoint.Count))
            select (Pure: pure.ClearPoint, Crude: crude.ClearPoint, Worth: worth)).ToList();
        var (shareCrude, sharePure) = (ImpureShare(settings, Preparation.Crude), ImpureShare(settings, Preparation.Recrystallised));
        return differences.Count == 0
            ? null
            : OfCells(
                [.. differences.Select(one => (one.Pure.Mean - one.Crude.Mean, one.Worth))],
                (shareCrude - sharePure) * ImpureDepression(settings.Depression),
                Pooled(differences.SelectMany(one => new[] { one.Pure, one.Crude }), Square(AssumedSpread(settings, Preparation.Crude, isCalibrated: false))));
    }
}

/// <summary>How crystals of one preparation are read.</summary>
/// <param name="Preparation">What was done to them.</param>
/// <param name="IsCalibrated">Whether the thermometers had been checked.</param>
/// <param name="Readings">How many were counted.</param>
/// <param name="SpreadCelsius">Standard deviation of clear points of one compound in one course, outliers left out. Units: °C.</param>
/// <param name="SpanCelsius">Mean width. Units: °C.</param>
public sealed record LearnedPreparation(
    Preparation Preparation, bool IsCalibrated, int Readings, LearnedFigure SpreadCelsius, LearnedFigure SpanCelsius);
