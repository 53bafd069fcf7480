using Derivid.Store.Repeats;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps the marked requests carried out.</summary>
internal sealed class RememberedRequestMapping : IEntityTypeConfiguration<RememberedRequest>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<RememberedRequest> builder)
    {
        builder.ToTable("remembered_requests");
        builder.HasKey(request => new { request.Actor, request.Key });
    }
}
