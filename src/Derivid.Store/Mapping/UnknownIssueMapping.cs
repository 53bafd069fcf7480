using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps issues of unknowns.</summary>
internal sealed class UnknownIssueMapping : IEntityTypeConfiguration<UnknownIssue>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<UnknownIssue> builder)
    {
        builder.ToTable("unknown_issues");
        builder.HasKey(issue => new { issue.CourseId, issue.Number });
        builder.HasOne<Course>().WithMany().HasForeignKey(issue => issue.CourseId).OnDelete(DeleteBehavior.Restrict);
    }
}
