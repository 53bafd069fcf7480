using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps grades: one a report and basis.</summary>
internal sealed class CourseGradeMapping : IEntityTypeConfiguration<CourseGrade>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<CourseGrade> builder)
    {
        builder.ToTable("course_grades");
        builder.HasKey(grade => new { grade.ReportId, grade.Basis });
        builder.HasOne<CourseReport>().WithMany().HasForeignKey(grade => grade.ReportId).OnDelete(DeleteBehavior.Restrict);
    }
}
