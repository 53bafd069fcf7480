using Derivid.Store.Curation;
using Derivid.Store.Tables;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps proposals. The revision guards every write.</summary>
internal sealed class ProposalMapping : IEntityTypeConfiguration<Proposal>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<Proposal> builder)
    {
        builder.ToTable("proposals");
        builder.HasKey(proposal => proposal.Id);
        builder.Property(proposal => proposal.Title).MayChange();
        builder.Property(proposal => proposal.Reason).MayChange();
        builder.Property(proposal => proposal.State).MayChange();
        builder.Property(proposal => proposal.Revision).MayChange().IsConcurrencyToken();
        builder.Property(proposal => proposal.BaseVersion).MayChange();
        builder.Property(proposal => proposal.Authors).MayChange();
        builder.Property(proposal => proposal.UpdatedAtUtc).MayChange();
        builder.Property(proposal => proposal.ReviewedBy).MayChange();
        builder.Property(proposal => proposal.ReviewNote).MayChange();
        builder.Property(proposal => proposal.ReleasedVersion).MayChange();
        builder.HasOne<TableVersion>().WithMany().HasForeignKey(proposal => proposal.BaseVersion).OnDelete(DeleteBehavior.Restrict);
    }
}
