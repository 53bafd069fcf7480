using Derivid.Core.Curation;
using Derivid.Core.Curation.Readings;
using Derivid.Store.Access;
using Derivid.Store.Auditing;
using Derivid.Store.Curation;
using Derivid.Store.Idempotency;
using Derivid.Store.Identifications;
using Derivid.Store.Mapping;
using Derivid.Store.Practice;
using Derivid.Store.Tables;
using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store;

/// <summary>The model of the database, the same on both engines.</summary>
/// <remarks>
/// Rows of the reference table are Core's own records. Two columns that Core doesn't know, from_version and
/// to_version, say in which versions of the table a row stands. Nothing released changes: a column of a stored row may
/// be written again only where its mapping says so.
/// </remarks>
/// <param name="options">Engine and connection.</param>
/// <param name="layout">The kinds of record the table holds.</param>
public sealed class DerividContext(DbContextOptions<DerividContext> options, TableLayout layout) : DbContext(options)
{
    /// <summary>The kinds of record the table holds.</summary>
    public TableLayout Layout => layout;

    /// <summary>The released versions of the table.</summary>
    public DbSet<TableVersion> TableVersions => Set<TableVersion>();

    /// <summary>The identifications kept.</summary>
    public DbSet<StoredIdentification> Identifications => Set<StoredIdentification>();

    /// <summary>The keys given out.</summary>
    public DbSet<ApiKey> ApiKeys => Set<ApiKey>();

    /// <summary>The keys that protect sessions and forms of the page.</summary>
    public DbSet<ProtectionKey> ProtectionKeys => Set<ProtectionKey>();

    /// <summary>Secrets of the service itself.</summary>
    public DbSet<ServerSecret> ServerSecrets => Set<ServerSecret>();

    /// <summary>The log of every write.</summary>
    public DbSet<AuditEntry> AuditEntries => Set<AuditEntry>();

    /// <summary>The marked requests carried out.</summary>
    public DbSet<IdempotentRequest> IdempotentRequests => Set<IdempotentRequest>();

    /// <summary>The courses.</summary>
    public DbSet<Course> Courses => Set<Course>();

    /// <summary>The staff of courses.</summary>
    public DbSet<CourseStaff> CourseStaff => Set<CourseStaff>();

    /// <summary>Their students.</summary>
    public DbSet<CourseStudent> CourseStudents => Set<CourseStudent>();

    /// <summary>Whoever their rosters have ever named.</summary>
    public DbSet<CourseActor> CourseActors => Set<CourseActor>();

    /// <summary>The hand-outs of unknowns.</summary>
    public DbSet<StoredHandOut> StoredHandOuts => Set<StoredHandOut>();

    /// <summary>The unknowns handed out.</summary>
    public DbSet<Assignment> Assignments => Set<Assignment>();

    /// <summary>The reports, drafts too.</summary>
    public DbSet<CourseReport> CourseReports => Set<CourseReport>();

    /// <summary>The gradings.</summary>
    public DbSet<Grading> Gradings => Set<Grading>();

    /// <summary>The reports of gradings.</summary>
    public DbSet<GradingEntry> GradingEntries => Set<GradingEntry>();

    /// <summary>The grades.</summary>
    public DbSet<CourseGrade> CourseGrades => Set<CourseGrade>();

    /// <summary>What persons changed about grades.</summary>
    public DbSet<StoredModeration> Moderations => Set<StoredModeration>();

    /// <summary>The registered thermometers.</summary>
    public DbSet<Thermometer> Thermometers => Set<Thermometer>();

    /// <summary>Their calibrations.</summary>
    public DbSet<Calibration> Calibrations => Set<Calibration>();

    /// <summary>The proposals to change the table.</summary>
    public DbSet<Proposal> Proposals => Set<Proposal>();

    /// <summary>What proposals make of records.</summary>
    public DbSet<ProposedRecord> ProposedRecords => Set<ProposedRecord>();

    /// <summary>The remarks on proposals.</summary>
    public DbSet<ProposalComment> ProposalComments => Set<ProposalComment>();

    /// <summary>What people typed from sources.</summary>
    public DbSet<PrintedReading> PrintedReadings => Set<PrintedReading>();

    /// <summary>The files sent.</summary>
    public DbSet<ImportJob> ImportJobs => Set<ImportJob>();

    /// <summary>What is wrong with them.</summary>
    public DbSet<ImportFault> ImportFaults => Set<ImportFault>();

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
        modelBuilder.MapTable(layout);
        modelBuilder.MapCuration();
        modelBuilder.MapTeaching();
        modelBuilder.MapPractice();
        modelBuilder.MapRequests();
        modelBuilder.ForbidOtherChanges();
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
