using Derivid.Store.Tables;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps the released versions of the table.</summary>
internal sealed class TableVersionMapping : IEntityTypeConfiguration<TableVersion>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<TableVersion> builder)
    {
        builder.ToTable("table_versions");
        builder.HasKey(version => version.Number);
        builder.Property(version => version.Number).ValueGeneratedNever();
    }
}
