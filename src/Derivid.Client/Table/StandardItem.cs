namespace Derivid.Client.Table;

/// <summary>A substance whose melting point calibrates a thermometer.</summary>
/// <param name="Key">Stable key.</param>
/// <param name="Name">The name shown.</param>
/// <param name="CasNumber">CAS Registry Number.</param>
/// <param name="ClearPointCelsius">Accepted temperature at which the last crystal goes. Units: °C.</param>
/// <param name="Source">Key of the source.</param>
/// <param name="Verification">How far the value was followed back.</param>
/// <param name="Note">A curator's remark. Missing: none.</param>
public sealed record StandardItem(
    string Key,
    string Name,
    string CasNumber,
    double ClearPointCelsius,
    string Source,
    string Verification,
    string? Note);
