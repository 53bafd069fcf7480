using System.ComponentModel.DataAnnotations;

namespace Derivid.Contracts;

/// <summary>Many observations at once, such as a class's.</summary>
public sealed record BatchRequest
{
    /// <summary>Most items.</summary>
    public const int MostItems = 1000;

    /// <summary>Most candidates listed over all items together.</summary>
    public const int MostCandidates = 20_000;

    /// <summary>Most table versions named over all items together, the current one among them if it is named.</summary>
    public const int MostTableVersions = 4;

    /// <summary>The observations; each is answered by itself, in this order.</summary>
    [MinLength(1)]
    [MaxLength(MostItems)]
    public required IReadOnlyList<BatchItem> Items { get; init; }
}

/// <summary>One observation of a batch.</summary>
public sealed record BatchItem
{
    /// <summary>The sender's own label, given back with the result. Missing: none.</summary>
    public string? Reference { get; init; }

    /// <summary>What was seen and measured.</summary>
    public required IdentificationRequest Observation { get; init; }
}

/// <summary>The results of a batch.</summary>
/// <remarks>Written in this order, so that the results can be read while the others are worked out.</remarks>
/// <param name="Items">One result an item, in the order of the request.</param>
/// <param name="Identified">How many items were identified.</param>
/// <param name="Refused">How many items have a problem.</param>
/// <param name="IsStored">Whether all identifications are stored; false when none is, or when the database was lost on the way.</param>
public sealed record BatchReply(IReadOnlyList<BatchResult> Items, int Identified, int Refused, bool IsStored);

/// <summary>What became of one item of a batch: an identification or a problem.</summary>
/// <param name="Reference">The sender's own label. Missing: none was given, or it could not be read.</param>
/// <param name="Identification">The identification. Missing: there is a problem.</param>
/// <param name="IsStored">Whether the identification is stored. Missing: there is none.</param>
/// <param name="Problem">Why it was refused. Missing: it was identified.</param>
public sealed record BatchResult(string? Reference, IdentificationReply? Identification, bool? IsStored, ProblemBody? Problem);
