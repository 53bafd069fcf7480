namespace Derivid.Client.Identifications;

/// <summary>One observation of a batch.</summary>
public sealed record BatchItem
{
    /// <summary>The sender's own label, given back with the result. Missing: none.</summary>
    public string? Reference { get; init; }

    /// <summary>What was seen and measured.</summary>
    public required IdentificationRequest Observation { get; init; }
}
