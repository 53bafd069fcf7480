using Derivid.Store.Auditing;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps the audit log. The database numbers its entries.</summary>
internal sealed class AuditEntryMapping : IEntityTypeConfiguration<AuditEntry>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<AuditEntry> builder)
    {
        builder.ToTable("audit_entries");
        builder.HasKey(entry => entry.Sequence);
        builder.Property(entry => entry.Sequence).ValueGeneratedOnAdd();
        builder.HasIndex(entry => new { entry.Resource, entry.Sequence });
        builder.HasIndex(entry => new { entry.Actor, entry.Sequence });
        builder.HasIndex(entry => new { entry.Action, entry.Sequence });
    }
}
