using Derivid.Core.Compounds;

namespace Derivid.Core.Melting;

/// <summary>A substance whose melting point calibrates a thermometer.</summary>
/// <param name="Key">Stable key; unique in a table.</param>
/// <param name="Name">The name shown.</param>
/// <param name="CasNumber">CAS Registry Number.</param>
/// <param name="ClearPointCelsius">Accepted temperature at which the last crystal goes. Units: °C.</param>
/// <param name="SourceKey">The source that gives the temperature.</param>
/// <param name="Verification">How far the value was followed back.</param>
/// <param name="Note">A curator's remark. Missing: null.</param>
public sealed record MeltingPointStandard(
    string Key,
    string Name,
    string CasNumber,
    double ClearPointCelsius,
    string SourceKey,
    Verification Verification,
    string? Note);
