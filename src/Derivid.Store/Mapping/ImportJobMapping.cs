using Derivid.Store.Curation;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps imports; what is sent stands still, what comes of it moves.</summary>
internal sealed class ImportJobMapping : IEntityTypeConfiguration<ImportJob>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<ImportJob> builder)
    {
        builder.ToTable("import_jobs");
        builder.HasKey(job => job.Id);
        builder.HasOne<Proposal>().WithMany().HasForeignKey(job => job.ProposalId).OnDelete(DeleteBehavior.Restrict);
    }
}
