using Derivid.Core.Compounds;
using Derivid.Core.Ranking;

namespace Derivid.Core.Practice;

/// <summary>How a melting range is read, and what one that was read tells of the purity.</summary>
/// <remarks>Stores nothing. What no source read says is common practice, or missing.</remarks>
public sealed record ReadingGuide
{
    /// <summary>Version of the reference table that was looked up.</summary>
    public required int TableVersion { get; init; }

    /// <summary>What is melted.</summary>
    public required string Title { get; init; }

    /// <summary>Key of the kind of derivative. Missing: no derivative.</summary>
    public string? KindKey { get; init; }

    /// <summary>Key of the parent. Missing: none was named.</summary>
    public string? ParentKey { get; init; }

    /// <summary>Key of the melting-point standard. Missing: none was named.</summary>
    public string? StandardKey { get; init; }

    /// <summary>Where it is expected to melt, or to be looked for. Units: °C.</summary>
    public required AmountSpan ExpectedCelsius { get; init; }

    /// <summary>What that rests on.</summary>
    public required ExpectedBasis ExpectedBasis { get; init; }

    /// <summary>Who lists it. Shape: by key; empty where nothing is listed.</summary>
    public required IReadOnlyList<string> ExpectedSourceKeys { get; init; }

    /// <summary>The forms that are listed, where there is more than one. Shape: by clear point; empty where an expected range was sent.</summary>
    public required IReadOnlyList<ListedForm> Forms { get; init; }

    /// <summary>Whether it melts with decomposition: as was sent, as was read, or as any listed range of it says.</summary>
    public required bool Decomposes { get; init; }

    /// <summary>How it is heated. Shape: in the order of the work; empty for a liquid.</summary>
    public required IReadOnlyList<HeatingStep> Steps { get; init; }

    /// <summary>How long all steps take. Units: min.</summary>
    public required AmountSpan Minutes { get; init; }

    /// <summary>What the thermometer shows there. Missing: nothing is known of it.</summary>
    public ThermometerThere? Thermometer { get; init; }

    /// <summary>How to fill, to watch, to compare, and where a depression tells nothing. Shape: in the order of the work.</summary>
    public required IReadOnlyList<ReadingAdvice> Advice { get; init; }

    /// <summary>How impure it is. Missing: nothing was read, or it cannot be told.</summary>
    public PurityEstimate? Purity { get; init; }

    /// <summary>Why the purity can't be told. Missing: it was, or nothing was read.</summary>
    public string? PurityMissing { get; init; }

    /// <summary>Whether another recrystallisation is worth it. Missing: no observation was sent.</summary>
    public RecrystallisationWorth? Recrystallisation { get; init; }

    /// <summary>The usual cautions: what can explode first.</summary>
    public required IReadOnlyList<CautionOfSheet> Cautions { get; init; }

    /// <summary>What all cautions close with: who decides.</summary>
    public required string Deferral { get; init; }

    /// <summary>The sources named. Shape: by key.</summary>
    public required IReadOnlyList<Source> Sources { get; init; }

    /// <summary>Where it is expected to melt and what that rests on, in words.</summary>
    public string ExpectedInWords()
    {
        var range = Figure.Range(ExpectedCelsius.Low, ExpectedCelsius.High, Decomposes);
        return ExpectedBasis switch
        {
            ExpectedBasis.Sent => $"Expected to melt at {range}, as you say.",
            ExpectedBasis.Listed when Forms.Count > 0 =>
                $"More than one form is listed: {string.Join("; ", Forms.Select(form => form.InWords()))} [{string.Join(", ", ExpectedSourceKeys)}]. The first pass tells which it is: plan for that one alone by sending where it melts as the expected range.",
            ExpectedBasis.Listed => $"Listed to melt at {range} [{string.Join(", ", ExpectedSourceKeys)}].",
            ExpectedBasis.Usual when KindKey is null => $"Nothing is listed: it is looked for over {range}.",
            ExpectedBasis.Usual => $"Nothing is listed: derivatives of this kind usually melt at {range}.",
        };
    }

    /// <summary>How long all steps take, in words.</summary>
    public string MinutesInWords() => $"About {Figure.Span(Minutes.Low, Minutes.High, decimals: 0)} min in all.";

    /// <summary>Writes one.</summary>
    /// <param name="order">What is to be melted.</param>
    /// <param name="snapshot">The table, with the numbers of the model: the error of a reading is one of them.</param>
    public static ReadingGuide Of(ReadingOrder order, TableSnapshot snapshot)
    {
        ArgumentNullException.ThrowIfNull(order);
        ArgumentNullException.ThrowIfNull(snapshot);
        return new ReadingGuideWriter(order, snapshot).Write();
    }
}

/// <summary>What an expected range rests on.</summary>
public enum ExpectedBasis
{
    /// <summary>It was sent.</summary>
    Sent,

    /// <summary>The table lists it.</summary>
    Listed,

    /// <summary>Nothing is listed: the usual span of the kind, or of all kinds.</summary>
    Usual,
}

/// <summary>One of several forms that are listed of a derivative.</summary>
/// <param name="Form">Which one, as the table has it. Missing: null, the source does not say.</param>
/// <param name="Celsius">Where it melts, all listings of it together. Units: °C.</param>
/// <param name="ClearPointCelsius">Its clear points. Units: °C.</param>
public sealed record ListedForm(string? Form, AmountSpan Celsius, AmountSpan ClearPointCelsius)
{
    /// <summary>The same in words, such as "low melting modification at 147 °C".</summary>
    public string InWords() => $"{Form?.Replace('-', ' ') ?? "form not said"} at {Figure.Range(Celsius.Low, Celsius.High)}";
}

/// <summary>What a thermometer shows where it is going to be read.</summary>
/// <param name="AtCelsius">The clear point expected. Units: °C.</param>
/// <param name="CorrectionCelsius">What has to be added to a reading there. Units: °C, a difference.</param>
/// <param name="ErrorCelsius">How far it may still be out, one standard deviation. Units: °C.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record ThermometerThere(double AtCelsius, double CorrectionCelsius, double ErrorCelsius, string Sentence);
