using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps the students of courses. One caller is one student of a course.</summary>
internal sealed class CourseStudentMapping : IEntityTypeConfiguration<CourseStudent>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<CourseStudent> builder)
    {
        builder.ToTable("course_students");
        builder.HasKey(student => new { student.CourseId, student.StudentKey });
        builder.HasOne<Course>().WithMany()
            .HasForeignKey(student => student.CourseId).OnDelete(DeleteBehavior.Restrict);
        builder.HasIndex(student => new { student.CourseId, student.Actor }).IsUnique();
        builder.HasIndex(student => student.Actor);
        builder.Property(student => student.Bench).MayChange();
        builder.Property(student => student.Place).MayChange();
        builder.Property(student => student.Neighbours).MayChange();
        builder.Property(student => student.Actor).MayChange();
        builder.Property(student => student.IsEnrolled).MayChange();
    }
}
