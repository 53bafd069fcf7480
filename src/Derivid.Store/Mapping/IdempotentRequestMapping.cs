using Derivid.Store.Idempotency;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps the marked requests carried out.</summary>
internal sealed class IdempotentRequestMapping : IEntityTypeConfiguration<IdempotentRequest>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<IdempotentRequest> builder)
    {
        builder.ToTable("idempotent_requests");
        builder.HasKey(request => new { request.Actor, request.Key });
    }
}
