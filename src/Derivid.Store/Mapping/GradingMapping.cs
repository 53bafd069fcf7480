using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps gradings. Lease and end are all that changes.</summary>
internal sealed class GradingMapping : IEntityTypeConfiguration<Grading>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<Grading> builder)
    {
        builder.ToTable("gradings");
        builder.HasKey(grading => grading.Id);
        builder.HasIndex(grading => grading.FinishedAtUtc);
        builder.HasOne<Course>().WithMany().HasForeignKey(grading => grading.CourseId).OnDelete(DeleteBehavior.Restrict);
        builder.Property(grading => grading.LeasedUntilUtc).MayChange();
        builder.Property(grading => grading.FinishedAtUtc).MayChange();
    }
}
