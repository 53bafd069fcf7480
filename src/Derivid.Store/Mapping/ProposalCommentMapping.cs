using Derivid.Store.Curation;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps the remarks on proposals.</summary>
internal sealed class ProposalCommentMapping : IEntityTypeConfiguration<ProposalComment>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<ProposalComment> builder)
    {
        builder.ToTable("proposal_comments");
        builder.HasKey(comment => comment.Id);
        builder.HasOne<Proposal>().WithMany().HasForeignKey(comment => comment.ProposalId).OnDelete(DeleteBehavior.Restrict);
    }
}
