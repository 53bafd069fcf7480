using Derivid.Core.Curation.Readings;
using Derivid.Store.Curation;
using Derivid.Store.Tables;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Mapping;

/// <summary>Maps proposals, readings and imports.</summary>
internal static class CurationMapping
{
    /// <summary>Maps them.</summary>
    /// <param name="model">The model.</param>
    public static void MapCuration(this ModelBuilder model)
    {
        // Proposals. The revision guards every write.
        model.Entity<Proposal>(builder =>
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
        });

        // The changes of proposals.
        model.Entity<ProposedRecord>(builder =>
        {
            builder.ToTable("proposed_records");
            builder.HasKey(record => new { record.ProposalId, record.TableName, record.RecordKey });
            builder.HasOne<Proposal>().WithMany().HasForeignKey(record => record.ProposalId).OnDelete(DeleteBehavior.Restrict);
        });

        // The remarks on proposals.
        model.Entity<ProposalComment>(builder =>
        {
            builder.ToTable("proposal_comments");
            builder.HasKey(comment => comment.Id);
            builder.HasOne<Proposal>().WithMany().HasForeignKey(comment => comment.ProposalId).OnDelete(DeleteBehavior.Restrict);
        });

        // Readings; none is ever written again.
        model.Entity<PrintedReading>(builder =>
        {
            builder.ToTable("printed_readings");
            builder.HasKey(reading => reading.Id);
            builder.HasIndex(reading => reading.SheetId);
            builder.HasIndex(reading => new { reading.SourceKey, reading.RecordKey });
            builder.HasOne<TableVersion>().WithMany().HasForeignKey(reading => reading.TableVersion).OnDelete(DeleteBehavior.Restrict);
            builder.HasOne<Proposal>().WithMany().HasForeignKey(reading => reading.ProposalId).OnDelete(DeleteBehavior.Restrict);
        });

        // Imports; what is sent stands still, what comes of it moves.
        model.Entity<ImportJob>(builder =>
        {
            builder.ToTable("import_jobs");
            builder.HasKey(job => job.Id);
            builder.HasOne<Proposal>().WithMany().HasForeignKey(job => job.ProposalId).OnDelete(DeleteBehavior.Restrict);
        });

        // What is wrong with files sent.
        model.Entity<ImportFault>(builder =>
        {
            builder.ToTable("import_faults");
            builder.HasKey(fault => new { fault.JobId, fault.Number });
            builder.HasOne<ImportJob>().WithMany().HasForeignKey(fault => fault.JobId).OnDelete(DeleteBehavior.Restrict);
        });
    }
}
