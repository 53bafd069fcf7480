using Derivid.Core.Ranking;

namespace Derivid.Core.Practice;

/// <summary>A step of heating, in the order of the work.</summary>
public enum HeatingStepKind
{
    /// <summary>A spare tube heated fast, only to see where it melts.</summary>
    FirstPass,

    /// <summary>The bath cooled to below the range.</summary>
    Cool,

    /// <summary>A fresh tube put in.</summary>
    Insert,

    /// <summary>Heated quickly to shortly below the range.</summary>
    HeatQuickly,

    /// <summary>Heated slowly through the range, and read.</summary>
    Melt,
}

/// <summary>One step of heating.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Text">What to do, with its figures.</param>
/// <param name="Why">Why.</param>
/// <param name="FromCelsius">Where it begins. Units: °C. Missing: null, below what the first pass will have shown.</param>
/// <param name="ToCelsius">Where it ends. Units: °C. Missing: null, as above.</param>
/// <param name="CelsiusPerMinute">How fast; below 0 it cools. Units: °C/min. Missing: null, the temperature is held.</param>
/// <param name="Minutes">How long. Units: min.</param>
/// <param name="SourceKeys">Who prints its figures. Shape: by key; empty, common practice.</param>
public sealed record HeatingStep(
    HeatingStepKind Kind,
    string Text,
    string Why,
    double? FromCelsius,
    double? ToCelsius,
    AmountSpan? CelsiusPerMinute,
    AmountSpan Minutes,
    IReadOnlyList<string> SourceKeys)
{
    /// <summary>Its temperatures, such as "217–227"; empty where the first pass will tell them.</summary>
    public string CelsiusInWords() => FromCelsius is { } from && ToCelsius is { } to
        ? from == to ? Figure.Degrees(from) : $"{Figure.Degrees(from)} to {Figure.Degrees(to)}"
        : "";

    /// <summary>Its rate, such as "1–2"; empty where the temperature is held.</summary>
    public string RateInWords() => CelsiusPerMinute is { } rate ? Figure.Span(rate.Low, rate.High, decimals: 1) : "";

    /// <summary>How long, such as "6–12".</summary>
    public string MinutesInWords() => Minutes.High < 1 ? "under 1" : Figure.Span(Minutes.Low, Minutes.High, decimals: 0);
}

/// <summary>How a tube is heated to read a melting range.</summary>
/// <remarks>Printed figures are those of <see cref="HeatingRate"/>; spans hold all that are printed for a step.</remarks>
/// <param name="Steps">Shape: in the order of the work; empty for what is a liquid at room temperature.</param>
/// <param name="Cases">What is special about it.</param>
public sealed record HeatingPlan(IReadOnlyList<HeatingStep> Steps, IReadOnlyList<ReadingCase> Cases)
{
    /// <summary>The lowest reach of bath or thermometer that is taken. Units: °C.</summary>
    public const double LeastReachCelsius = 50;

    /// <summary>How fast a bath or block cools. Units: °C/min. Common practice, no source: it depends on its mass.</summary>
    private const double CoolingRate = 5;

    /// <summary>How long it takes to put a tube in and find it in the lens. Units: min. Common practice, no source.</summary>
    private const double InsertMinutes = 1;

    /// <summary>What melts pure melts within this. Units: °C, a difference. Source: cole-parmer-melting-point.</summary>
    private const double UsualSpanCelsius = 2;

    /// <summary>Above this the first of the usual liquids of a bath is near its flash point. Units: °C. Source: kolias-melting-point.</summary>
    private const double HotCelsius = 160;

    private const double RoomCelsius = TableSnapshot.RoomCelsius;

    /// <summary>How long all of it takes. Units: min.</summary>
    public AmountSpan Minutes => new(Steps.Sum(step => step.Minutes.Low), Steps.Sum(step => step.Minutes.High));

    /// <summary>Plans for a range that is expected.</summary>
    /// <param name="expected">Onset and clear point expected. Units: °C.</param>
    /// <param name="decomposes">Whether it melts with decomposition.</param>
    /// <param name="reachCelsius">Where bath or thermometer end. Units: °C. Missing: null, not said.</param>
    public static HeatingPlan Expecting(AmountSpan expected, bool decomposes, double? reachCelsius)
    {
        if (expected.High <= RoomCelsius)
        {
            return new HeatingPlan([], [ReadingCase.Liquid]);
        }

        var start = Math.Min(RoomCelsius, expected.Low - InsertBelow(decomposes));
        return new HeatingPlan(
            Within(StepsOf(start, expected.High, expected, decomposes), reachCelsius), [.. CasesOf(expected.High, start, decomposes, reachCelsius)]);
    }

    /// <summary>Plans for what may melt anywhere: a first pass, and what follows from it.</summary>
    /// <param name="looked">Where to look for it. Units: °C.</param>
    /// <param name="decomposes">Whether it melts with decomposition.</param>
    /// <param name="reachCelsius">Where bath or thermometer end. Units: °C. Missing: null, not said.</param>
    public static HeatingPlan Searching(AmountSpan looked, bool decomposes, double? reachCelsius)
    {
        var start = Math.Min(RoomCelsius, looked.Low);
        return new HeatingPlan(
            StepsOf(start, Math.Min(looked.High, reachCelsius ?? looked.High), null, decomposes),
            [ReadingCase.Unknown, .. CasesOf(looked.High, start, decomposes, reachCelsius)]);
    }

    // Where nothing is expected, all but the first pass is told from where that one melted.
    private static List<HeatingStep> StepsOf(double start, double end, AmountSpan? expected, bool decomposes)
    {
        var fast = HeatingRate.Of(HeatingStepKind.FirstPass);
        var quick = HeatingRate.Of(HeatingStepKind.HeatQuickly);
        var melt = HeatingRate.Of(HeatingStepKind.Melt, decomposes);
        var (fastRate, meltRate) = (RateOf(fast), RateOf(melt));
        var inserted = InsertBelow(decomposes);
        var slow = decomposes ? inserted : BelowOf(quick);
        var span = expected is { } range ? range.High - range.Low : UsualSpanCelsius;
        double? At(double below) => expected?.Low - below;
        string Place(double below) => At(below) is { } celsius ? Celsius(celsius) : $"{Celsius(below)} below what the first pass showed";
        var steps = new List<HeatingStep>
        {
            new(
                HeatingStepKind.FirstPass,
                $"Heat a spare tube from {Celsius(start)} at {Rate(fastRate)} until it has melted, {(expected is null ? $"to {Celsius(end)} at the most" : $"near {Celsius(end)}")}, and note where.",
                expected is null
                    ? "Nothing says where it melts. It is no reading: fast heating reads high."
                    : "It may melt elsewhere than expected, and then the slow part would begin too late or take an hour. It is no reading: fast heating reads high.",
                start, end, fastRate, MinutesOf(end - start, fastRate), KeysOf(fast)),
            new(
                HeatingStepKind.Cool,
                expected is null
                    ? $"Cool to {Place(inserted)}."
                    : $"Cool to {Place(inserted)}, {Celsius(inserted)} below where it begins; if the first pass melted elsewhere, take that.",
                "A tube put in hotter would melt before it is watched.",
                expected?.High, At(inserted), AmountSpan.Known(-CoolingRate), AmountSpan.Known((inserted + span) / CoolingRate), []),
            new(
                HeatingStepKind.Insert,
                $"Put a fresh tube in{(expected is null ? "" : $" at {Place(inserted)}")}.",
                decomposes
                    ? "Put in hot it decomposes less on the way to its melting point. The figure is printed for antibiotics; that it suits here is assumed."
                    : "What has melted once may have decomposed or set in another crystal form.",
                At(inserted), At(inserted), null, AmountSpan.Known(InsertMinutes), KeysOf(HeatingRate.Of(HeatingStepKind.Insert, decomposes))),
        };
        if (!decomposes)
        {
            steps.Add(new(
                HeatingStepKind.HeatQuickly,
                $"Heat at {Rate(fastRate)} to {Place(slow)}.",
                "Nothing happens there yet; slow heating would only lose time.",
                At(inserted), At(slow), fastRate, MinutesOf(inserted - slow, fastRate), KeysOf([.. fast, .. quick])));
        }

        steps.Add(new(
            HeatingStepKind.Melt,
            $"Heat at {Rate(meltRate)} until the last crystal is gone{(expected is { } listed ? $", at {Figure.Range(listed.Low, listed.High)} if it is what is expected" : "")}, and note onset and clear point{(decomposes ? ", the rate and “dec.”" : "")}.",
            decomposes
                ? "It is read higher the faster it is heated, so the rate belongs to the reading."
                : "So slowly that the sample is as hot as the thermometer.",
            At(slow), expected?.High, meltRate, MinutesOf(slow + span, meltRate), KeysOf(melt)));
        return steps;
    }

    private static IEnumerable<ReadingCase> CasesOf(double clear, double start, bool decomposes, double? reach)
    {
        if (clear > reach)
        {
            yield return ReadingCase.OutOfReach;
        }

        if (Math.Min(clear, reach ?? clear) > HotCelsius)
        {
            yield return ReadingCase.Hot;
        }

        if (start < RoomCelsius)
        {
            yield return ReadingCase.Low;
        }

        if (decomposes)
        {
            yield return ReadingCase.Decomposes;
        }
    }

    // What would lie beyond the end of bath or thermometer is left out, and what leads there ends with it.
    private static List<HeatingStep> Within(List<HeatingStep> steps, double? reach) => reach is { } end
        ? [.. steps.Where(step => Math.Min(step.FromCelsius!.Value, step.ToCelsius!.Value) < end).Select(step => Clipped(step, end))]
        : steps;

    private static HeatingStep Clipped(HeatingStep step, double end)
    {
        var (from, to) = (Math.Min(step.FromCelsius!.Value, end), Math.Min(step.ToCelsius!.Value, end));
        var whole = Math.Abs(step.ToCelsius.Value - step.FromCelsius.Value);
        var left = whole == 0 ? 1 : Math.Abs(to - from) / whole;
        return left == 1 ? step : step with
        {
            Text = step.ToCelsius > end ? $"{step.Text} Stop at {Celsius(end)}, where bath or thermometer end." : step.Text,
            FromCelsius = from,
            ToCelsius = to,
            Minutes = new AmountSpan(left * step.Minutes.Low, left * step.Minutes.High),
        };
    }

    private static AmountSpan MinutesOf(double celsius, AmountSpan rate) => new(celsius / rate.High, celsius / rate.Low);

    private static double InsertBelow(bool decomposes) => BelowOf(HeatingRate.Of(HeatingStepKind.Insert, decomposes));

    // The farthest below that is printed: whoever begins there has time in hand.
    private static double BelowOf(IReadOnlyList<HeatingRate> printed) => printed.Max(row => row.BelowCelsius)!.Value;

    private static AmountSpan RateOf(IReadOnlyList<HeatingRate> printed) =>
        new(printed.Min(row => row.Rate!.Value.Low), printed.Max(row => row.Rate!.Value.High));

    private static IReadOnlyList<string> KeysOf(IEnumerable<HeatingRate> printed) =>
        [.. printed.Select(row => row.SourceKey).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)];

    private static string Celsius(double celsius) => Figure.Degrees(celsius) + " °C";

    private static string Rate(AmountSpan rate) => $"{Figure.Span(rate.Low, rate.High, decimals: 1)} °C/min";
}
