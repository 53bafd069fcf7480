namespace Derivid.Store.Auditing;

/// <summary>Which entries to read.</summary>
/// <param name="Actor">By whom, exactly. Missing: null, by anyone.</param>
/// <param name="Action">What, exactly. Missing: null, anything.</param>
/// <param name="Resource">To what, exactly. Missing: null, to anything.</param>
public sealed record AuditFilter(string? Actor = null, string? Action = null, string? Resource = null);
