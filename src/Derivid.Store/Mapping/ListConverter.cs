using System.Text.Json;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;

namespace Derivid.Store.Mapping;

/// <summary>Keeps a short list, such as synonyms, as a JSON array in one column, alike on both engines.</summary>
internal sealed class ListConverter<T>() : ValueConverter<IReadOnlyList<T>, string>(
    list => JsonSerializer.Serialize(list, JsonSerializerOptions.Default),
    text => JsonSerializer.Deserialize<T[]>(text, JsonSerializerOptions.Default)!);
