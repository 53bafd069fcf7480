using System.Text.Json;

namespace Derivid.Api.Curation;

/// <summary>What is to become of one record: either the whole record, or its removal.</summary>
public sealed record RecordChangeRequest
{
    /// <summary>The record as it is to be, with every field, as exports write it. Missing: it is to be removed.</summary>
    public JsonElement? Record { get; init; }

    /// <summary>Whether it is to be left out of the table. Missing: false.</summary>
    public bool? Remove { get; init; }
}
