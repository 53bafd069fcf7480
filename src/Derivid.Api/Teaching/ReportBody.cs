using Derivid.Contracts;
using Derivid.Core.Compounds;

namespace Derivid.Api.Teaching;

/// <summary>What a report says, as it is kept: keys for names, figures for texts.</summary>
public sealed record ReportBody
{
    /// <summary>What was seen and measured, in canonical form.</summary>
    public required IdentificationRequest Observation { get; init; }

    /// <summary>The compound claimed, by key. Missing: none.</summary>
    public string? ClaimedParent { get; init; }

    /// <summary>The function claimed, where no compound is. Missing: none.</summary>
    public ParentKind? ClaimedKind { get; init; }

    /// <summary>How the claim follows from what was seen. Missing: none.</summary>
    public string? Reasoning { get; init; }

    /// <summary>Anything else. Missing: none.</summary>
    public string? Notes { get; init; }
}
