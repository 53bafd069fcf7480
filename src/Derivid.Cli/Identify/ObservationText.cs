using Derivid.Contracts;
using Derivid.Core.Observations;
using Derivid.Core.SpotTests;

namespace Derivid.Cli.Identify;

/// <summary>Reads what was observed from the short forms of the command line. What it may be, the service decides.</summary>
internal static class ObservationText
{
    /// <summary>Stands for a derivative kind where the unknown itself was mixed.</summary>
    private const string Itself = "itself";

    /// <summary>
    /// KIND=RANGE; COLOUR; PREPARATION; TIME, of which only the kind must be there, or KIND=PRECIPITATE where there is no range.
    /// </summary>
    public static DerivativeObserved Derivative(string text)
    {
        var (kind, rest) = Halves(text, "2,4-DNPH=125-127 °C; yellow; recrystallised");
        var parts = rest.Split(';', StringSplitOptions.TrimEntries);
        if (parts.Length > 4)
        {
            throw new FormatException($"\"{text}\" has too many parts; a range, a colour, a preparation and a time are allowed.");
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
            Time = Part(parts, 3) is { } time ? OptionOf.Word<PrecipitateTime>(time) : null,
        };
    }

    /// <summary>KIND=PARTNER; RANGE; AUTHENTIC RANGE, or itself=PARTNER where the unknown itself was mixed.</summary>
    public static MixedMeltingObserved MixedMelting(string text)
    {
        const string Example = "2,4-DNPH=propanone; 125-127 °C; 126-128 °C";
        var (kind, rest) = Halves(text, Example);
        var parts = rest.Split(';', StringSplitOptions.TrimEntries);
        return (Part(parts, 0), Part(parts, 1)) is ({ } partner, { } range) && parts.Length <= 3
            ? new MixedMeltingObserved
            {
                Kind = kind.Equals(Itself, StringComparison.OrdinalIgnoreCase) ? null : kind,
                Partner = partner,
                Range = range,
                AuthenticRange = Part(parts, 2) is { } authentic ? (RangeObserved)authentic : null,
            }
            : throw new FormatException($"\"{text}\" can't be read; write it like '{Example}'.");
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
