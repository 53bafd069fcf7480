using Derivid.Core.Melting;

namespace Derivid.Store.Practice;

/// <summary>A registered thermometer. Never changed; calibrations come to it.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">What it is called at the bench.</param>
/// <param name="Liquid">What it is filled with. Missing: null, an electronic one.</param>
/// <param name="Owner">Who registered it.</param>
/// <param name="CreatedAtUtc">When. Units: UTC.</param>
public sealed record Thermometer(string Id, string Name, ThreadLiquid? Liquid, string Owner, DateTime CreatedAtUtc);

/// <summary>Standards melted with a thermometer at one time. Never changed; another comes after it.</summary>
/// <param name="Id">Its id.</param>
/// <param name="ThermometerId">The thermometer.</param>
/// <param name="StandardsJson">The standards and their readings, as JSON.</param>
/// <param name="Actor">Who read them.</param>
/// <param name="MeltedAtUtc">When they were melted. Units: UTC.</param>
/// <param name="CreatedAtUtc">When that was sent. Units: UTC.</param>
public sealed record Calibration(
    string Id, string ThermometerId, string StandardsJson, string Actor, DateTime MeltedAtUtc, DateTime CreatedAtUtc);
