using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps the reports of gradings.</summary>
internal sealed class GradingEntryMapping : IEntityTypeConfiguration<GradingEntry>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<GradingEntry> builder)
    {
        builder.ToTable("grading_entries");
        builder.HasKey(item => new { item.GradingId, item.ReportId });
        builder.HasOne<Grading>().WithMany().HasForeignKey(item => item.GradingId).OnDelete(DeleteBehavior.Restrict);
        builder.HasOne<CourseReport>().WithMany().HasForeignKey(item => item.ReportId).OnDelete(DeleteBehavior.Restrict);
        builder.Property(item => item.IsDone).MayChange();
        builder.Property(item => item.Problem).MayChange();
    }
}
