using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Melting;
using Derivid.Core.Observations;

namespace Derivid.Api.Identifications;

/// <summary>Turns a request in canonical form into the observation the engine takes.</summary>
public static class Observing
{
    /// <summary>Reads the observation out of a request.</summary>
    /// <param name="request">A request in canonical form.</param>
    /// <param name="table">The version of the table it names.</param>
    /// <param name="place">Where the request stands in the body, a JSON Pointer.</param>
    /// <param name="errors">Takes the faults.</param>
    /// <returns>The observation. It means something only while no faults were noted.</returns>
    public static Observation Of(IdentificationRequest request, ServedTable table, string place, FieldErrors errors)
    {
        ArgumentNullException.ThrowIfNull(request);
        return new Observation
        {
            Derivatives = [.. (request.Derivatives ?? []).Select(Derivative)],
            SpotTests = [.. (request.SpotTests ?? []).Select(t => new SpotTestReading(t.Test, t.Outcome))],
            State = request.State,
            BoilingPoint = request.BoilingPoint is { } boiling
                ? new BoilingPointReading(Range(boiling.Range)!.Value, boiling.PressureKilopascals!.Value)
                : null,
            MeltingPoint = Range(request.MeltingPoint),
            MolarMass = request.MolarMass is { } mass
                ? new MolarMassReading(mass.GramsPerMole, mass.UncertaintyGramsPerMole)
                : null,
            Elements =
            [
                .. (request.Elements?.Present ?? []).Select(e => new ElementReading(e, true)),
                .. (request.Elements?.Absent ?? []).Select(e => new ElementReading(e, false)),
            ],
            Thermometer = Thermometer(request.Thermometer, table, place + "/thermometer", errors),
            WindowCelsius = request.WindowCelsius!.Value,
            Prior = Prior(request.Prior),
        };
    }

    private static DerivativeReading Derivative(DerivativeObserved derivative) =>
        new(
            derivative.Kind,
            Range(derivative.MeltingRange),
            derivative.Preparation!.Value,
            derivative.Colour,
            derivative.Precipitate);

    private static MeltingRange? Range(RangeObserved? range) => range?.Figures is { } figures
        ? new MeltingRange(figures.OnsetCelsius, figures.ClearPointCelsius, figures.Decomposes ?? false)
        : null;

    private static ThermometerCorrection Thermometer(
        ThermometerDescribed? thermometer, ServedTable table, string place, FieldErrors errors)
    {
        if (thermometer is null)
        {
            return ThermometerCorrection.None;
        }

        var stem = thermometer.Stem is { } exposed
            ? new StemCorrection(exposed.ExposedCelsius, exposed.StemCelsius)
            : null;
        try
        {
            return new ThermometerCorrection(
                (thermometer.Standards ?? []).Select(s =>
                    new CalibrationPoint(s.ReadCelsius, table.StandardByKey[s.Standard])),
                stem);
        }
        catch (ArgumentException fault)
        {
            errors.Add(place + "/standards", Sentence(fault), ProblemTypes.ThermometerImplausible);
            return ThermometerCorrection.None;
        }
    }

    private static PriorChoice Prior(PriorDescribed? prior) => prior is null
        ? PriorChoice.Uniform
        : new PriorChoice
        {
            Weights = prior.Weights ?? prior.ShelfList?.ToDictionary(key => key, _ => 1.0, StringComparer.Ordinal),
            NoneOfThese = prior.NoneOfThese,
        };

    // The exception's message without the parameter's name, which means nothing to a sender.
    private static string Sentence(ArgumentException fault)
    {
        var end = fault.Message.LastIndexOf(" (Parameter", StringComparison.Ordinal);
        return end < 0 ? fault.Message : fault.Message[..end];
    }
}
