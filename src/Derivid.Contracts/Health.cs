namespace Derivid.Contracts;

/// <summary>How the service is.</summary>
/// <param name="Status">"live", "ready" or "starting".</param>
/// <param name="TableVersion">Current version of the reference table. Missing: none loaded yet.</param>
/// <param name="ModelVersion">Version of the ranking model. Missing: none loaded yet.</param>
/// <param name="Database">
/// "reachable" or "away" at the last look. While it is away identifications are answered but not stored. Missing: not
/// looked at.
/// </param>
public sealed record HealthItem(string Status, int? TableVersion, string? ModelVersion, string? Database);
