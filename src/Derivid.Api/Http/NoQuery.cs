namespace Derivid.Api.Http;

/// <summary>The query of an address that takes no parameters.</summary>
public sealed record NoQuery;
