using Derivid.Store.Curation;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps what is wrong with files sent.</summary>
internal sealed class ImportFaultMapping : IEntityTypeConfiguration<ImportFault>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<ImportFault> builder)
    {
        builder.ToTable("import_faults");
        builder.HasKey(fault => new { fault.JobId, fault.Number });
        builder.HasOne<ImportJob>().WithMany().HasForeignKey(fault => fault.JobId).OnDelete(DeleteBehavior.Restrict);
    }
}
