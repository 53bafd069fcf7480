namespace Derivid.Api.Http;

/// <summary>Names the record whose properties are an endpoint's query parameters.</summary>
/// <param name="Type">The record.</param>
public sealed record QueryRecord(Type Type);
