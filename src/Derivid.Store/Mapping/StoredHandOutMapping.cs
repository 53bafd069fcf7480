using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps hand-outs of unknowns.</summary>
internal sealed class StoredHandOutMapping : IEntityTypeConfiguration<StoredHandOut>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<StoredHandOut> builder)
    {
        builder.ToTable("hand_outs");
        builder.HasKey(handOut => new { handOut.CourseId, handOut.Number });
        builder.HasOne<Course>().WithMany().HasForeignKey(handOut => handOut.CourseId).OnDelete(DeleteBehavior.Restrict);
    }
}
