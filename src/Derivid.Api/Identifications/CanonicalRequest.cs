using Derivid.Contracts;
using Derivid.Core.Melting;
using Derivid.Core.Observations;

namespace Derivid.Api.Identifications;

/// <summary>
/// A request in the one form that all requests saying the same share (keys for names, figures for texts, defaults written
/// out, lists in order and without repeats), and what the engine is to weigh.
/// </summary>
/// <remarks>
/// The form is itself a request, so a stored one can be replayed. Figures are rounded as they are read, to what the form
/// writes down: the engine works from nothing else, and a replay cannot differ. A test not done and a list without entries
/// are left out: they say nothing.
/// </remarks>
/// <param name="Form">The form.</param>
/// <param name="Observation">The observation.</param>
public sealed record CanonicalRequest(IdentificationRequest Form, Observation Observation);

/// <summary>Readings in the form in which a request states them.</summary>
internal static class CanonicalForm
{
    public static DerivativeObserved Of(DerivativeReading reading) => new()
    {
        Kind = reading.KindKey,
        Precipitate = reading.Precipitate,
        Time = reading.Time,
        MeltingRange = Of(reading.Range),
        Preparation = reading.Preparation,
        Colour = reading.ColourKey,
    };

    public static SpotTestObserved Of(SpotTestReading reading) => new() { Test = reading.TestKey, Outcome = reading.Outcome };

    public static BoilingPointObserved Of(BoilingPointReading reading) =>
        new() { Range = Of(reading.Range)!, PressureKilopascals = reading.PressureKilopascals };

    public static MixedMeltingObserved Of(MixedMeltingReading reading) => new()
    {
        Kind = reading.KindKey,
        Partner = reading.PartnerKey,
        Range = Of(reading.Mixture)!,
        AuthenticRange = Of(reading.Authentic),
    };

    public static MolarMassObserved Of(MolarMassReading reading) =>
        new() { GramsPerMole = reading.GramsPerMole, UncertaintyGramsPerMole = reading.UncertaintyGramsPerMole };

    public static ElementsObserved? Of(List<ElementReading> readings)
    {
        var present = readings.Where(reading => reading.IsPresent).Select(reading => reading.Element).ToList();
        var absent = readings.Where(reading => !reading.IsPresent).Select(reading => reading.Element).ToList();
        return readings is []
            ? null
            : new ElementsObserved { Present = present is [] ? null : present, Absent = absent is [] ? null : absent };
    }

    public static RangeObserved? Of(MeltingRange? range) => range is { } read
        ? new RangeObserved(null, new RangeInFigures
        {
            OnsetCelsius = read.OnsetCelsius,
            ClearPointCelsius = read.ClearPointCelsius,
            Decomposes = read.Decomposes ? true : null,
        })
        : null;
}
