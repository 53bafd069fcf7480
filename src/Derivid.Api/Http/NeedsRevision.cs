namespace Derivid.Api.Http;

/// <summary>Says in the document that an operation needs the header of <see cref="Revisions"/>.</summary>
public sealed record NeedsRevision;
