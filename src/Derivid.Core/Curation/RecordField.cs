namespace Derivid.Core.Curation;

/// <summary>One field of a kind of record.</summary>
/// <param name="Name">Name of the property.</param>
/// <param name="Of">Its value in a record. Missing: null.</param>
public sealed record RecordField(string Name, Func<object, object?> Of);
