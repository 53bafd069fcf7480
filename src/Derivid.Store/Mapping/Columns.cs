using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;
using Microsoft.EntityFrameworkCore.Metadata;
using Microsoft.EntityFrameworkCore.Metadata.Builders;
using Microsoft.EntityFrameworkCore.Storage.ValueConversion;

namespace Derivid.Store.Mapping;

/// <summary>Says which columns of stored rows may be written again; all others may not.</summary>
internal static class Changing
{
    /// <summary>Lets a column be written again.</summary>
    /// <param name="property">The column's property.</param>
    public static PropertyBuilder<T> MayChange<T>(this PropertyBuilder<T> property)
    {
        property.Metadata.SetAfterSaveBehavior(PropertySaveBehavior.Save);
        return property;
    }

    /// <summary>Forbids writing again wherever no mapping allowed it.</summary>
    /// <param name="model">The model, all its mappings applied.</param>
    public static void ForbidOtherChanges(this ModelBuilder model)
    {
        var others = model.Model.GetEntityTypes().SelectMany(entity => entity.GetProperties())
            .Where(property => !property.IsPrimaryKey()
                && ((IConventionProperty)property).GetAfterSaveBehaviorConfigurationSource() is null);
        foreach (var property in others)
        {
            property.SetAfterSaveBehavior(PropertySaveBehavior.Throw);
        }
    }
}

/// <summary>Keeps a short list, such as synonyms, as a JSON array in one column, alike on both engines.</summary>
/// <remarks>An empty text, which rows have that are older than their column, is an empty list.</remarks>
internal sealed class ListConverter<T>() : ValueConverter<IReadOnlyList<T>, string>(
    list => JsonSerializer.Serialize(list, JsonSerializerOptions.Default),
    text => text.Length == 0 ? Array.Empty<T>() : JsonSerializer.Deserialize<T[]>(text, JsonSerializerOptions.Default)!);

/// <summary>Compares lists item by item; they are immutable, so the snapshot is the list itself.</summary>
internal sealed class ListComparer<T>() : ValueComparer<IReadOnlyList<T>>(
    (left, right) => ReferenceEquals(left, right) || (left != null && right != null && left.SequenceEqual(right)),
    list => list.Aggregate(0, (hash, item) => HashCode.Combine(hash, item)));

/// <summary>Keeps instants in UTC: SQLite forgets the kind of a date.</summary>
internal sealed class UtcConverter() : ValueConverter<DateTime, DateTime>(
    instant => instant.ToUniversalTime(),
    stored => DateTime.SpecifyKind(stored, DateTimeKind.Utc));
