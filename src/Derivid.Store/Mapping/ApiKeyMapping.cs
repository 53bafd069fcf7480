using Derivid.Store.Access;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata.Builders;

namespace Derivid.Store.Mapping;

/// <summary>Maps the keys given out. Revocation and last use are all that changes.</summary>
internal sealed class ApiKeyMapping : IEntityTypeConfiguration<ApiKey>
{
    /// <inheritdoc />
    public void Configure(EntityTypeBuilder<ApiKey> builder)
    {
        builder.ToTable("api_keys");
        builder.HasKey(key => key.Id);
        builder.Property(key => key.RevokedAtUtc).MayChange();
        builder.Property(key => key.LastUsedOn).MayChange();
    }
}
