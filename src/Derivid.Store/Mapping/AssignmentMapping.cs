using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps the unknowns handed out. A code names one unknown of a hand-out.</summary>
internal sealed class AssignmentMapping : IEntityTypeConfiguration<Assignment>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<Assignment> builder)
    {
        builder.ToTable("assignments");
        builder.HasKey(row => new { row.CourseId, row.HandOutNumber, row.StudentKey, row.Number });
        builder.HasIndex(row => new { row.CourseId, row.HandOutNumber, row.Code }).IsUnique();
        builder.HasOne<StoredHandOut>().WithMany()
            .HasForeignKey(row => new { row.CourseId, row.HandOutNumber }).OnDelete(DeleteBehavior.Restrict);
    }
}
