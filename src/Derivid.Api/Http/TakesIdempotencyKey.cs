namespace Derivid.Api.Http;

/// <summary>Says in the document that an operation takes the header of <see cref="IdempotencyHeader"/>.</summary>
public sealed record TakesIdempotencyKey;
