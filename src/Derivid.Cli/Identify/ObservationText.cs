using Derivid.Contracts;
using Derivid.Core.Observations;
using Derivid.Core.SpotTests;

namespace Derivid.Cli.Identify;

/// <summary>Reads what was observed from the short forms of the command line. What it may be, the service decides.</summary>
internal static class ObservationText
{
    /// <summary>
    /// KIND=RANGE; COLOUR; PREPARATION, of which only the kind must be there, or KIND=PRECIPITATE where there is no range.
    /// </summary>
    public static DerivativeObserved Derivative(string text)
    {
        var (kind, rest) = Halves(text, "2,4-DNPH=125-127 °C; yellow; recrystallised");
        var parts = rest.Split(';', StringSplitOptions.TrimEntries);
        if (parts.Length > 3)
        {
            throw new FormatException($"\"{text}\" has too many parts; a range, a colour and a preparation are allowed.");
        }

        var first = Part(parts, 0);
        Precipitate? came = Enum.GetNames<Precipitate>().Contains(first, StringComparer.OrdinalIgnoreCase)
            ? OptionOf.Word<Precipitate>(first!)
            : null;
        return new DerivativeObserved
        {
            Kind = kind,
            Precipitate = came,
            MeltingRange = came is null && first is { } range ? (RangeObserved)range : null,
            Colour = Part(parts, 1),
            Preparation = Part(parts, 2) is { } word ? OptionOf.Word<Preparation>(word) : null,
        };
    }

    /// <summary>TEST=OUTCOME.</summary>
    public static SpotTestObserved SpotTest(string text)
    {
        var (test, outcome) = Halves(text, "iodoform=positive");
        return new SpotTestObserved
        {
            Test = test,
            Outcome = outcome switch
            {
                "+" => SpotTestOutcome.Positive,
                "-" or "−" => SpotTestOutcome.Negative,
                "?" => SpotTestOutcome.Doubtful,
                _ => OptionOf.Word<SpotTestOutcome>(outcome),
            },
        };
    }

    /// <summary>STANDARD=°C.</summary>
    public static StandardMelted Standard(string text)
    {
        var (standard, read) = Halves(text, "benzoic-acid=120.9");
        return new StandardMelted { Standard = standard, ReadCelsius = OptionOf.Number(read) };
    }

    private static string? Part(string[] parts, int place) =>
        place < parts.Length && parts[place].Length > 0 ? parts[place] : null;

    private static (string Name, string Value) Halves(string text, string example)
    {
        var parts = text.Split('=', 2, StringSplitOptions.TrimEntries);
        return parts is [{ Length: > 0 } name, var value]
            ? (name, value)
            : throw new FormatException($"\"{text}\" can't be read; write it like '{example}'.");
    }
}
