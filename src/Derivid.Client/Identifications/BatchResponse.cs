namespace Derivid.Client.Identifications;

/// <summary>The results of a batch.</summary>
/// <param name="Identified">How many items were identified.</param>
/// <param name="Refused">How many items have a problem.</param>
/// <param name="IsStored">Whether the identifications were stored, all of them or none.</param>
/// <param name="Items">One result an item, in the order of the request.</param>
public sealed record BatchResponse(int Identified, int Refused, bool IsStored, IReadOnlyList<BatchResult> Items);
