using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps reports. Each attempt at an assignment is one report.</summary>
internal sealed class CourseReportMapping : IEntityTypeConfiguration<CourseReport>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<CourseReport> builder)
    {
        builder.ToTable("course_reports");
        builder.HasKey(report => report.Id);
        builder.HasIndex(report => new
        {
            report.CourseId,
            report.HandOutNumber,
            report.StudentKey,
            report.Number,
            report.Attempt,
        }).IsUnique();
        builder.HasOne<Assignment>().WithMany()
            .HasForeignKey(report => new { report.CourseId, report.HandOutNumber, report.StudentKey, report.Number })
            .OnDelete(DeleteBehavior.Restrict);
        builder.Property(report => report.BodyJson).MayChange();
        builder.Property(report => report.HandedInAtUtc).MayChange();
        builder.Property(report => report.Revision).MayChange().IsConcurrencyToken();
    }
}
