using Derivid.Store.Identifications;
using Derivid.Store.Mapping;
using Derivid.Store.Tables;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;

namespace Derivid.Store;

/// <summary>The model of the database, the same on both engines.</summary>
/// <remarks>
/// Rows of the reference table are Core's own records. Two columns that Core doesn't know, from_version and
/// to_version, say in which versions of the table a row stands. Nothing released changes: the only column of a stored
/// row that may be written again is to_version.
/// </remarks>
public sealed class DerividContext(DbContextOptions<DerividContext> options) : DbContext(options)
{
    /// <summary>The released versions of the table.</summary>
    public DbSet<TableVersion> TableVersions => Set<TableVersion>();

    /// <summary>The identifications kept.</summary>
    public DbSet<StoredIdentification> Identifications => Set<StoredIdentification>();

    /// <inheritdoc />
    public override int SaveChanges(bool acceptAllChangesOnSuccess)
    {
        RefuseDeletions();
        return base.SaveChanges(acceptAllChangesOnSuccess);
    }

    /// <inheritdoc />
    public override Task<int> SaveChangesAsync(
        bool acceptAllChangesOnSuccess, CancellationToken cancellationToken = default)
    {
        RefuseDeletions();
        return base.SaveChangesAsync(acceptAllChangesOnSuccess, cancellationToken);
    }

    /// <inheritdoc />
    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        configurationBuilder.Properties<Enum>().HaveConversion<string>();
        configurationBuilder.Properties<DateTime>().HaveConversion<UtcConverter>();
        configurationBuilder.Properties<IReadOnlyList<string>>()
            .HaveConversion<ListConverter<string>, ListComparer<string>>();
        configurationBuilder.Properties<IReadOnlyList<double>>()
            .HaveConversion<ListConverter<double>, ListComparer<double>>();
    }

    /// <inheritdoc />
    protected override void OnModelCreating(ModelBuilder modelBuilder)
    {
        modelBuilder
            .ApplyConfiguration(new TableVersionMapping())
            .ApplyConfiguration(new SourceMapping())
            .ApplyConfiguration(new ParentMapping())
            .ApplyConfiguration(new ParentConstantMapping())
            .ApplyConfiguration(new DerivativeKindMapping())
            .ApplyConfiguration(new DerivativeMapping())
            .ApplyConfiguration(new SpotTestQuestionMapping())
            .ApplyConfiguration(new SpotTestMapping())
            .ApplyConfiguration(new SpotTestResponseMapping())
            .ApplyConfiguration(new ColourMapping())
            .ApplyConfiguration(new ColourExpectationMapping())
            .ApplyConfiguration(new MeltingPointStandardMapping())
            .ApplyConfiguration(new StoredIdentificationMapping());

        var released = modelBuilder.Model.GetEntityTypes().SelectMany(entity => entity.GetProperties())
            .Where(property => !property.IsPrimaryKey() && property.Name != VersionInterval.To);
        foreach (var property in released)
        {
            property.SetAfterSaveBehavior(PropertySaveBehavior.Throw);
        }
    }

    private void RefuseDeletions()
    {
        if (ChangeTracker.Entries().FirstOrDefault(entry => entry.State == EntityState.Deleted) is { } deleted)
        {
            throw new InvalidOperationException(
                $"A stored {deleted.Metadata.ClrType.Name} is never deleted; a later version of the table ends it.");
        }
    }
}
