using Derivid.Store.Curation;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps the changes of proposals.</summary>
internal sealed class ProposedRecordMapping : IEntityTypeConfiguration<ProposedRecord>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<ProposedRecord> builder)
    {
        builder.ToTable("proposed_records");
        builder.HasKey(record => new { record.ProposalId, record.Kind, record.RecordKey });
        builder.Ignore(record => record.Record);
        builder.HasOne<Proposal>().WithMany().HasForeignKey(record => record.ProposalId).OnDelete(DeleteBehavior.Restrict);
    }
}
