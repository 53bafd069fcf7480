using System.Text.Json;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;

namespace Derivid.Store.Mapping;

/// <summary>Keeps a short list, such as synonyms, as a JSON array in one column, alike on both engines.</summary>
/// <remarks>An empty text, which rows have that are older than their column, is an empty list. Public for the generated models.</remarks>
/// <typeparam name="T">What is listed.</typeparam>
public sealed class ListConverter<T>() : ValueConverter<IReadOnlyList<T>, string>(
    list => JsonSerializer.Serialize(list, JsonSerializerOptions.Default),
    text => text.Length == 0 ? Array.Empty<T>() : JsonSerializer.Deserialize<T[]>(text, JsonSerializerOptions.Default)!);

/// <summary>Compares lists item by item; they are immutable, so the snapshot is the list itself.</summary>
/// <typeparam name="T">What is listed.</typeparam>
public sealed class ListComparer<T>() : ValueComparer<IReadOnlyList<T>>(
    (left, right) => ReferenceEquals(left, right) || (left != null && right != null && left.SequenceEqual(right)),
    list => list.Aggregate(0, (hash, item) => HashCode.Combine(hash, item)));

/// <summary>Keeps instants in UTC: SQLite forgets the kind of a date.</summary>
public sealed class UtcConverter() : ValueConverter<DateTime, DateTime>(
    instant => instant.ToUniversalTime(),
    stored => DateTime.SpecifyKind(stored, DateTimeKind.Utc));
