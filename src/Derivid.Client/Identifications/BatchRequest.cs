namespace Derivid.Client.Identifications;

internal sealed record BatchRequest(IReadOnlyList<BatchItem> Items);
