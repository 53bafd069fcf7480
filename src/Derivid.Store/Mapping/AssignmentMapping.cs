using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps the unknowns issued. A code names one unknown of an issue.</summary>
internal sealed class AssignmentMapping : IEntityTypeConfiguration<Assignment>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<Assignment> builder)
    {
        builder.ToTable("assignments");
        builder.HasKey(row => new { row.CourseId, row.IssueNumber, row.StudentKey, row.Number });
        builder.HasIndex(row => new { row.CourseId, row.IssueNumber, row.Code }).IsUnique();
        builder.HasOne<UnknownIssue>().WithMany()
            .HasForeignKey(row => new { row.CourseId, row.IssueNumber }).OnDelete(DeleteBehavior.Restrict);
    }
}
