using Derivid.Store.Tables;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps rows that stand in some versions of the table: a key that is unique within a version.</summary>
/// <param name="table">Name of the database table.</param>
/// <param name="key">The properties that make the key. Shape: none for rows with a number of their own.</param>
internal abstract class VersionedMapping<T>(string table, params string[] key) : IEntityTypeConfiguration<T>
    where T : class
{
    private const string RowNumber = "Id";

    /// <inheritdoc />
    public virtual void Configure(EntityTypeBuilder<T> builder)
    {
        builder.ToTable(table);
        builder.Property<int>(VersionInterval.From);
        builder.Property<int?>(VersionInterval.To).MayChange();
        if (key.Length == 0)
        {
            builder.Property<int>(RowNumber).ValueGeneratedOnAdd();
            builder.HasKey(RowNumber);
        }
        else
        {
            builder.HasKey([.. key, VersionInterval.From]);
        }
    }
}
