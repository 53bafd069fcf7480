namespace Derivid.Api.Writing;

/// <summary>Says in the document that an operation takes the header of <see cref="RequestMarks"/>.</summary>
public sealed record MarkedByKey;
