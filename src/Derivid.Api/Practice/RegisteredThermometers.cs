using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Melting;
using Derivid.Core.Ranking;
using Derivid.Store.Databases;
using Derivid.Store.Practice;

namespace Derivid.Api.Practice;

/// <summary>Registered thermometers between archive and observation.</summary>
/// <param name="thermometers">Where they are kept.</param>
/// <param name="time">The clock.</param>
public sealed class RegisteredThermometers(Thermometers thermometers, TimeProvider time)
{
    private const int MostCalibrations = 50;
    private const int HighestOfCurve = 360;
    private const int StepOfCurve = 10;

    /// <summary>A standard that reads this much otherwise than before is told. Units: °C. Chosen: what a careful reader reads again.</summary>
    private const double DriftCelsius = 0.5;

    /// <summary>Writes what is known of the thermometer that an observation names into the observation.</summary>
    /// <remarks>
    /// As of now: what is kept of the observation holds its readings, their age and its liquid, so that it can be sent and weighed again
    /// when the thermometer has been checked anew. What the observation itself tells stands, as in one that was kept; standards that
    /// are none, told as an empty list, too.
    /// </remarks>
    /// <param name="request">The observation.</param>
    /// <param name="table">The version of the table it is held against; standards that it doesn't have are left out.</param>
    /// <param name="place">Where it stands in the body, a JSON Pointer.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>The observation, or why it can't be.</returns>
    public async Task<Outcome<IdentificationRequest>> IntoAsync(
        IdentificationRequest request, ServedTable table, string place, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(request);
        return request.Thermometer is { Id: { } id } ? Into(request, table, place, await FindAsync(id, cancellationToken)) : request;
    }

    /// <summary>Looks one up.</summary>
    /// <param name="id">Its id as sent.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>Missing: null, no such thermometer.</returns>
    public async Task<CheckedThermometer?> FindAsync(string id, CancellationToken cancellationToken) =>
        ResourceIds.IsWellFormed(id) && await thermometers.FindAsync(id, cancellationToken) is { } thermometer
            ? new CheckedThermometer(thermometer, (await thermometers.CalibrationsAsync(id, 1, cancellationToken)).FirstOrDefault())
            : null;

    /// <summary>Writes what is known of a thermometer into an observation that names it.</summary>
    /// <param name="request">The observation.</param>
    /// <param name="table">The version of the table it is held against.</param>
    /// <param name="place">Where it stands in the body, a JSON Pointer.</param>
    /// <param name="known">The thermometer. Missing: null, no such thermometer.</param>
    public Outcome<IdentificationRequest> Into(IdentificationRequest request, ServedTable table, string place, CheckedThermometer? known)
    {
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(table);
        var (named, here) = (request.Thermometer!, place + "/thermometer");
        if (known is null)
        {
            return FieldErrors.One(here + "/id", $"No thermometer {Text.Quoted(named.Id!)} is registered here; register it at /api/v1/thermometers.");
        }

        if (named.Stem is not null && known.Thermometer.Liquid is null)
        {
            return FieldErrors.One(here + "/stem", $"{Text.Quoted(known.Thermometer.Name)} is registered as an electronic thermometer, which has no thread; leave it out.");
        }

        var readings = known.Latest is null ? [] : ReadingsOf(known.Latest).Where(read => table.StandardByKey.ContainsKey(read.Standard)).ToList();
        return request with
        {
            Thermometer = named with
            {
                Standards = named.Standards ?? readings,
                DaysSinceChecked = named.Standards is not null ? named.DaysSinceChecked : readings.Count == 0 ? null : DaysSince(known.Latest!),
                Stem = named.Stem is { Liquid: null } stem ? stem with { Liquid = known.Thermometer.Liquid } : named.Stem,
            },
        };
    }

    /// <summary>Puts one on the wire.</summary>
    /// <param name="thermometer">The thermometer.</param>
    /// <param name="table">The table that the standards are of.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<ThermometerItem> ItemOfAsync(Thermometer thermometer, ServedTable table, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(thermometer);
        ArgumentNullException.ThrowIfNull(table);
        var calibrations = await thermometers.CalibrationsAsync(thermometer.Id, MostCalibrations, cancellationToken);
        var readings = calibrations.ConvertAll(ReadingsOf);
        var correction = calibrations.Count > 0 ? Plausible(readings[0], DaysSince(calibrations[0]), table) : null;
        return new ThermometerItem
        {
            Id = thermometer.Id,
            Name = thermometer.Name,
            Liquid = thermometer.Liquid,
            RegisteredBy = thermometer.Owner,
            RegisteredAt = new DateTimeOffset(thermometer.CreatedAtUtc, TimeSpan.Zero),
            Calibrations = [.. calibrations.Zip(readings, (calibration, read) =>
                new CalibrationItem(new DateTimeOffset(calibration.MeltedAtUtc, TimeSpan.Zero), calibration.Actor, read))],
            Curve = correction is null ? null : [.. CurveOf(correction, table.Snapshot.Settings.Care)],
            Warnings = [.. WarningsOf(readings, correction)],
        };
    }

    /// <summary>The correction that readings make.</summary>
    /// <param name="readings">Standards by key.</param>
    /// <param name="days">How long ago they were melted. Units: days.</param>
    /// <param name="table">The table that the standards are of.</param>
    /// <returns>Missing: null, no standard is in this version of the table any more.</returns>
    /// <exception cref="ImplausibleThermometerException">No thermometer reads like this.</exception>
    internal static ThermometerCorrection? CorrectionOf(IReadOnlyList<StandardMelted> readings, int days, ServedTable table)
    {
        var points = readings.Where(read => table.StandardByKey.ContainsKey(read.Standard))
            .Select(read => new CalibrationPoint(read.ReadCelsius, table.StandardByKey[read.Standard])).ToList();
        return points.Count == 0 ? null : new ThermometerCorrection(points, daysSinceChecked: days);
    }

    // A later version of the table may have other values for the standards. Missing: null, no thermometer reads like this by them.
    private static ThermometerCorrection? Plausible(IReadOnlyList<StandardMelted> readings, int days, ServedTable table)
    {
        try
        {
            return CorrectionOf(readings, days, table);
        }
        catch (ImplausibleThermometerException)
        {
            return null;
        }
    }

    /// <summary>Readings as they are kept.</summary>
    /// <param name="readings">Standards by key, coolest first.</param>
    internal static string Kept(IReadOnlyList<StandardMelted> readings) =>
        JsonSerializer.Serialize(readings, WireJson.Context.IReadOnlyListStandardMelted);

    private static IReadOnlyList<StandardMelted> ReadingsOf(Calibration calibration) =>
        JsonSerializer.Deserialize(calibration.StandardsJson, WireJson.Context.IReadOnlyListStandardMelted)!;

    private int DaysSince(Calibration calibration) => int.Clamp(
        (int)(time.GetUtcNow().UtcDateTime - calibration.MeltedAtUtc).TotalDays, 0, ThermometerCorrection.LongestDays);

    private static IEnumerable<CorrectionPoint> CurveOf(ThermometerCorrection correction, CareSettings care)
    {
        for (var read = 0; read <= HighestOfCurve; read += StepOfCurve)
        {
            var used = correction.Apply(read);
            yield return new CorrectionPoint(read, used - read, care.ThermometerCelsius(correction.CheckAt(used)));
        }
    }

    private static IEnumerable<string> WarningsOf(List<IReadOnlyList<StandardMelted>> readings, ThermometerCorrection? correction)
    {
        if (correction is null)
        {
            yield return "It was never checked, or with standards that the table no longer has as they were: melt three standards, one cool, one between and one hot.";
            yield break;
        }

        if (correction.IsOld)
        {
            yield return $"It was checked {Figure.Count(correction.DaysSinceChecked, "day")} ago: melt its standards again.";
        }

        if (correction.Points.Count == 1)
        {
            yield return "One standard shifts the whole scale: melt another far from it, to see whether the scale itself is right.";
        }

        foreach (var read in readings.Count > 1 ? readings[0] : [])
        {
            if (readings[1].FirstOrDefault(before => before.Standard == read.Standard) is { } before
                && Math.Abs(read.ReadCelsius - before.ReadCelsius) is > DriftCelsius and var drift)
            {
                yield return
                    $"The standard {read.Standard} reads {Figure.Degrees(drift)} °C {(read.ReadCelsius > before.ReadCelsius ? "higher" : "lower")} than when it was checked before: make sure of the standard, else the thermometer drifts.";
            }
        }
    }
}

/// <summary>A thermometer and what it was last checked by.</summary>
/// <param name="Thermometer">The thermometer.</param>
/// <param name="Latest">The calibration that holds. Missing: null, it was never checked.</param>
public sealed record CheckedThermometer(Thermometer Thermometer, Calibration? Latest);
