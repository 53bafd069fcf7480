using Microsoft.EntityFrameworkCore.Storage.ValueConversion;

namespace Derivid.Store.Mapping;

/// <summary>Keeps instants in UTC: SQLite forgets the kind of a date.</summary>
internal sealed class UtcConverter() : ValueConverter<DateTime, DateTime>(
    instant => instant.ToUniversalTime(),
    stored => DateTime.SpecifyKind(stored, DateTimeKind.Utc));
