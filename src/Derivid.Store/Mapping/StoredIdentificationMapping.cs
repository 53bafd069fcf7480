using Derivid.Store.Identifications;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps the identifications kept. JSON is plain text, because a replay compares bytes.</summary>
internal sealed class StoredIdentificationMapping : IEntityTypeConfiguration<StoredIdentification>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<StoredIdentification> builder)
    {
        builder.ToTable("identifications");
        builder.HasKey(identification => identification.Id);
        builder.HasOne<Tables.TableVersion>().WithMany()
            .HasForeignKey(identification => identification.TableVersion).OnDelete(DeleteBehavior.Restrict);
    }
}
