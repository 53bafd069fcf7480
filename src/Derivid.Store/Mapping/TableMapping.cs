using Derivid.Core.Curation;
using Derivid.Store.Tables;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Mapping;

/// <summary>Maps the versions of the table and its rows.</summary>
internal static class TableMapping
{
    /// <summary>Maps them.</summary>
    /// <param name="model">The model.</param>
    /// <param name="layout">The kinds of record.</param>
    public static void MapTable(this ModelBuilder model, TableLayout layout)
    {
        model.Entity<TableVersion>(builder =>
        {
            builder.ToTable("table_versions");
            builder.HasKey(version => version.Number);
            builder.Property(version => version.Number).ValueGeneratedNever();
        });

        // A key is unique within a version.
        foreach (var kind in layout.Kinds)
        {
            var builder = model.Entity(kind.RecordType);
            builder.ToTable(kind.TableName.Replace('-', '_'));
            builder.Property<int>(VersionedRows.From);
            builder.Property<int?>(VersionedRows.To).MayChange();
            builder.HasKey([.. kind.Key.Select(column => column.Field), VersionedRows.From]);
        }
    }
}
