using Derivid.Store.Access;
using Derivid.Store.Auditing;
using Derivid.Store.Idempotency;
using Derivid.Store.Identifications;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Mapping;

/// <summary>Maps keys, the audit log, marked requests and identifications.</summary>
internal static class RequestMapping
{
    /// <summary>Maps them.</summary>
    /// <param name="model">The model.</param>
    public static void MapRequests(this ModelBuilder model)
    {
        // The keys given out. Revocation and last use are all that changes.
        model.Entity<ApiKey>(builder =>
        {
            builder.ToTable("api_keys");
            builder.HasKey(key => key.Id);
            builder.Property(key => key.RevokedAtUtc).MayChange();
            builder.Property(key => key.LastUsedOn).MayChange();
        });

        // The keys of sessions and forms. Written once; the framework itself passes over those past their time.
        model.Entity<ProtectionKey>(builder =>
        {
            builder.ToTable("protection_keys");
            builder.HasKey(key => key.Name);
        });

        // Secrets of the service itself.
        model.Entity<ServerSecret>(builder =>
        {
            builder.ToTable("server_secrets");
            builder.HasKey(secret => secret.Name);
        });

        // The audit log. The database numbers its entries.
        model.Entity<AuditEntry>(builder =>
        {
            builder.ToTable("audit_entries");
            builder.HasKey(entry => entry.Sequence);
            builder.Property(entry => entry.Sequence).ValueGeneratedOnAdd();
            builder.HasIndex(entry => new { entry.Resource, entry.Sequence });
            builder.HasIndex(entry => new { entry.Actor, entry.Sequence });
            builder.HasIndex(entry => new { entry.Action, entry.Sequence });
        });

        // The marked requests carried out.
        model.Entity<IdempotentRequest>(builder =>
        {
            builder.ToTable("idempotent_requests");
            builder.HasKey(request => new { request.Actor, request.Key });
        });

        // The identifications kept. The observation is plain text and the answer compressed, because a replay compares bytes.
        model.Entity<StoredIdentification>(builder =>
        {
            builder.ToTable("identifications");
            builder.HasKey(identification => identification.Id);
            builder.HasIndex(identification => identification.CreatedAtUtc);
            builder.HasOne<Tables.TableVersion>().WithMany()
                .HasForeignKey(identification => identification.TableVersion).OnDelete(DeleteBehavior.Restrict);
        });
    }
}
