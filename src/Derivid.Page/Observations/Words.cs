using System.Globalization;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;

namespace Derivid.Page.Observations;

/// <summary>What was observed, in words and as it can be typed again.</summary>
public static class Words
{
    /// <summary>A range as it can be typed.</summary>
    /// <param name="range">The range. Missing: null, none.</param>
    public static string? Typed(RangeObserved? range) => range switch
    {
        null => null,
        { Figures: { } figures } => Typed(figures.OnsetCelsius, figures.ClearPointCelsius, figures.Decomposes == true),
        _ => range.Text,
    };

    /// <summary>A number as it can be typed.</summary>
    /// <param name="number">The number. Missing: null, none.</param>
    public static string? Typed(double? number) => number?.ToString("0.########", CultureInfo.InvariantCulture);

    /// <summary>What came with a reagent.</summary>
    /// <param name="precipitate">What.</param>
    public static string Of(Precipitate precipitate) => precipitate switch
    {
        Precipitate.Crystals => "crystals",
        Precipitate.Oil => "an oil only",
        Precipitate.None => "nothing",
    };

    /// <summary>How soon crystals came.</summary>
    /// <param name="time">How soon.</param>
    public static string Of(PrecipitateTime time) => time switch
    {
        PrecipitateTime.Seconds => "within a minute",
        PrecipitateTime.Minutes => "within an hour",
        PrecipitateTime.Hours => "after hours",
    };

    /// <summary>What was done to crystals.</summary>
    /// <param name="preparation">What.</param>
    public static string Of(Preparation preparation) => preparation switch
    {
        Preparation.Unstated => "not stated",
        Preparation.Crude => "crude",
        Preparation.Recrystallised => "recrystallised",
    };

    /// <summary>How a test turned out.</summary>
    /// <param name="outcome">How.</param>
    public static string Of(SpotTestOutcome outcome) => outcome switch
    {
        SpotTestOutcome.NotDone => "not run",
        SpotTestOutcome.Positive => "positive",
        SpotTestOutcome.Negative => "negative",
        SpotTestOutcome.Doubtful => "doubtful",
    };

    /// <summary>An observation, an entry a line.</summary>
    /// <param name="seen">The observation.</param>
    /// <param name="vocabulary">Names of what it mentions.</param>
    /// <param name="typed">What was typed in other units.</param>
    /// <returns>Shape: what it is about, and what was seen.</returns>
    public static IEnumerable<(string About, string Seen)> Entries(IdentificationRequest seen, Vocabulary vocabulary, TypedReadings typed)
    {
        ArgumentNullException.ThrowIfNull(seen);
        ArgumentNullException.ThrowIfNull(vocabulary);
        ArgumentNullException.ThrowIfNull(typed);
        foreach (var made in seen.Derivatives ?? [])
        {
            yield return (vocabulary.KindName(made.Kind), Joined(
                made.MeltingRange is null ? made.Precipitate is { } came ? Of(came) : null : Shown(made.MeltingRange, typed),
                made.Colour is { } colour ? vocabulary.ColourName(colour) : null,
                made.Preparation is { } preparation && preparation != Preparation.Unstated ? Of(preparation) : null,
                made.Time is { } time ? $"came {Of(time)}" : null));
        }

        foreach (var test in seen.SpotTests ?? [])
        {
            yield return (vocabulary.TestName(test.Test), Of(test.Outcome));
        }

        foreach (var entry in Itself(seen, vocabulary, typed).Concat(Premises(seen)))
        {
            yield return entry;
        }
    }

    private static IEnumerable<(string About, string Seen)> Itself(IdentificationRequest seen, Vocabulary vocabulary, TypedReadings typed)
    {
        if (seen.State is { } state)
        {
            yield return ("at room temperature", state == PhysicalState.Liquid ? "liquid" : "solid");
        }

        if (seen.BoilingPoint is { } boiling)
        {
            yield return ("boiling range", Joined(
                Shown(boiling.Range, typed, boils: true),
                boiling.PressureKilopascals is { } pressure
                    ? $"at {Figure.Text(pressure, 2)} kPa ({(typed.OfPressure(pressure) is { } mmHg ? $"typed as {mmHg}" : Figure.Text(pressure / KilopascalsPerMmHg, 0))} mmHg)"
                    : null));
        }

        if (seen.MeltingPoint is { } melting)
        {
            yield return ("melting range of the unknown itself", Shown(melting, typed));
        }

        foreach (var mixed in seen.MixedMeltings ?? [])
        {
            yield return ($"mixed with authentic {(mixed.Kind is { } kind ? $"{vocabulary.KindName(kind)} of " : "")}{mixed.Partner}", Joined(
                Shown(mixed.Range, typed),
                mixed.AuthenticRange is { } alone ? $"the authentic sample alone {Shown(alone, typed)}" : null));
        }

        if (seen.MolarMass is { } mass)
        {
            yield return ("molar mass", $"{Figure.Text(mass.GramsPerMole, 1)} ± {Figure.Text(mass.UncertaintyGramsPerMole, 1)} g/mol");
        }

        if (seen.Elements is { } elements)
        {
            yield return ("elements", Joined(
                elements.Present is { Count: > 0 } present ? "found " + string.Join(", ", present).ToLowerInvariant() : null,
                elements.Absent is { Count: > 0 } absent ? "not found " + string.Join(", ", absent).ToLowerInvariant() : null));
        }

        if (seen.Thermometer?.Standards is { Count: > 0 } standards)
        {
            yield return ("thermometer checked with", string.Join(", ", standards.Select(standard => $"{vocabulary.StandardName(standard.Standard)} (read {Figure.Degrees(standard.ReadCelsius)} °C)"))
                + (seen.Thermometer.DaysSinceChecked is { } days ? $", {Figure.Count(days, "day")} before" : ""));
        }

        if (seen.Thermometer?.Stem is { } stem)
        {
            yield return ("thread outside the bath", $"{(stem.Liquid is { } liquid ? WireJson.Word(liquid) + ", " : "")}{Figure.Degrees(stem.ExposedCelsius)} °C of scale at {Figure.Degrees(stem.StemCelsius)} °C");
        }
    }

    /// <summary>An observation without what is taken anyway where nothing is said, so that it follows the table as it goes on.</summary>
    /// <param name="seen">The observation, as the service keeps it.</param>
    /// <param name="version">The current version of the table.</param>
    public static IdentificationRequest Said(IdentificationRequest seen, int version)
    {
        ArgumentNullException.ThrowIfNull(seen);
        return seen with
        {
            WindowCelsius = seen.WindowCelsius == Observation.DefaultWindowCelsius ? null : seen.WindowCelsius,
            MaximumCandidates = seen.MaximumCandidates == IdentificationEngine.DefaultCandidates ? null : seen.MaximumCandidates,
            TableVersion = seen.TableVersion == version ? null : seen.TableVersion,
        };
    }

    // What was known beforehand, and how the table was to be asked; nothing of what was left to the service, which writes
    // down what it took.
    private static IEnumerable<(string About, string Seen)> Premises(IdentificationRequest seen)
    {
        if (seen.Prior?.ShelfList is { Count: > 0 } shelf)
        {
            yield return ("one of these", string.Join(", ", shelf));
        }

        if (seen.Prior?.Weights is { Count: > 0 } weights)
        {
            yield return ("one of these, by weight", string.Join(", ", weights.Select(weight => $"{weight.Key} {Figure.Text(weight.Value, 3)}")));
        }

        if (seen.Prior?.IsUniform == true)
        {
            yield return ("before any evidence", "all are alike, however common");
        }

        if (seen.Prior?.NoneOfThese is { } none)
        {
            yield return ("chance beforehand that it is none of them", Figure.Percent(none));
        }

        if (seen.WindowCelsius is { } window && window != Observation.DefaultWindowCelsius)
        {
            yield return ("tolerance window", $"± {Figure.Text(window, 1)} °C");
        }

        if (seen.HazardMinutes is { } minutes)
        {
            yield return ("a hazard counts for", $"{Figure.Text(minutes, 1)} min of work");
        }

        if (seen.MaximumCandidates is { } most && most != IdentificationEngine.DefaultCandidates)
        {
            yield return ("candidates shown", $"{most}");
        }
    }

    /// <summary>One millimetre of mercury. Units: kPa. Source: conventional value, 133.322 Pa (SI Brochure, 8th edition, table 8).</summary>
    public const double KilopascalsPerMmHg = 0.133322;

    private static string Shown(RangeObserved range, TypedReadings typed, bool boils = false) => range.Figures is { } figures
        ? Figure.Range(figures.OnsetCelsius, figures.ClearPointCelsius, figures.Decomposes == true)
            + (typed.Of(range, boils) is { } text ? $" (typed as {text})" : "")
        : range.Text ?? "";

    private static string Typed(double onset, double clear, bool decomposes)
    {
        var (first, last) = (onset.ToString("0.####", CultureInfo.InvariantCulture), clear.ToString("0.####", CultureInfo.InvariantCulture));
        return $"{(first == last ? first : $"{first}-{last}")} °C{(decomposes ? " dec." : "")}";
    }

    private static string Joined(params string?[] parts) => string.Join(", ", parts.Where(part => !string.IsNullOrEmpty(part)));
}
