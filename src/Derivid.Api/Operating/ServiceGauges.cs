using System.Diagnostics.Metrics;
using Derivid.Api.Access;
using Derivid.Api.Curation.Imports;
using Derivid.Api.Identifications;
using Derivid.Api.Table;
using Derivid.Api.Teaching;
using Derivid.Store.Auditing;
using Derivid.Store.Databases;

namespace Derivid.Api.Operating;

/// <summary>What stands there to be read whenever somebody looks: table, queues and database.</summary>
/// <remarks>Made only where metrics are switched on. Every series is there from the start, so that a rule over it never finds nothing.</remarks>
/// <param name="meters">Makes the meter.</param>
/// <param name="counts">Has what only grows, which is to be there from the start too.</param>
/// <param name="tables">The versions of the table.</param>
/// <param name="turns">Turns of single senders.</param>
/// <param name="places">Places of single senders.</param>
/// <param name="batches">Turns of batches.</param>
/// <param name="imports">Imports of this process.</param>
/// <param name="gradings">Gradings.</param>
/// <param name="audit">Writes.</param>
/// <param name="database">The database.</param>
/// <param name="outages">Whether it is used.</param>
/// <param name="time">The clock.</param>
public sealed class ServiceGauges(
    IMeterFactory meters, ServiceMeter counts, TableSnapshots tables, SenderTurns turns, SenderPlaces places, BatchTurns batches, RunningImports imports,
    GradingWorker gradings, AuditTrail audit, DerividDatabase database, OutageLog outages, TimeProvider time) : IHostedService
{
    private const string Queue = "derivid.queue.name";

    /// <inheritdoc/>
    public Task StartAsync(CancellationToken cancellationToken)
    {
        var meter = meters.Create(ServiceMeter.Name);
        OfTable(meter);
        OfQueues(meter);
        OfDatabase(meter);
        counts.TellNone();
        gradings.CountsWaiting = true;
        return Task.CompletedTask;
    }

    /// <inheritdoc/>
    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    private void OfTable(Meter meter)
    {
        meter.CreateObservableGauge(
            "derivid.table.version", () => tables.Versions.Take(1).Select(version => Of(version.Number)),
            "{version}", "The version of the table that is served.");
        meter.CreateObservableGauge(
            "derivid.table.age", () => tables.Versions.Take(1).Select(version => Of((time.GetUtcNow().UtcDateTime - version.ReleasedAtUtc).TotalSeconds)),
            "s", "How long ago that version was released.");
        meter.CreateObservableGauge(
            "derivid.table.parents", () => tables.Versions.Take(1).Select(version => Of(version.ParentCount)),
            "{parent}", "The compounds that version lists.");
    }

    private void OfQueues(Meter meter)
    {
        meter.CreateObservableUpDownCounter(
            "derivid.queue.waiting",
            () => new Measurement<int>[]
            {
                In("place", places.Waiting), In("turn", turns.Waiting), In("large_answer", turns.LargeWaiting), In("batch", batches.Waiting),
                In("batch_item", batches.ItemsWaiting), In("write", audit.Waiting), In("import", imports.Waiting), In("grading", gradings.Waiting),
            },
            "{entry}", "What waits for its turn.");
        meter.CreateObservableUpDownCounter(
            "derivid.queue.active",
            () => new Measurement<int>[] { In("batch", batches.Active), In("import", imports.Active), In("grading", gradings.Active) },
            "{entry}", "What is worked on.");
    }

    private void OfDatabase(Meter meter)
    {
        var system = new KeyValuePair<string, object?>("db.system.name", database.Engine.Name.ToLowerInvariant());
        meter.CreateObservableUpDownCounter(
            "derivid.database.status",
            () => new DatabaseStatus[] { DatabaseStatus.Answering, DatabaseStatus.Failing, DatabaseStatus.Lost }.Select(status => new Measurement<int>(
                status == Status ? 1 : 0, system, new("derivid.database.state", status.ToString().ToLowerInvariant()))),
            "1", "1 for the state that the database is in, 0 for the others.");
        meter.CreateObservableGauge(
            "derivid.database.answer.age",
            () => database.SinceAnswered is { } since ? [new Measurement<double>(since.TotalSeconds, system)] : Array.Empty<Measurement<double>>(),
            "s", "How long ago the database last did something.");
        meter.CreateObservableCounter(
            "derivid.database.failures", () => new Measurement<long>(outages.Failures, system),
            "{failure}", "What could not be done for want of the database.");
    }

    private DatabaseStatus Status =>
        database.IsLost ? DatabaseStatus.Lost : outages.IsOut ? DatabaseStatus.Failing : DatabaseStatus.Answering;

    private static Measurement<T> Of<T>(T value)
        where T : struct => new(value);

    private static Measurement<int> In(string queue, int count) => new(count, new KeyValuePair<string, object?>(Queue, queue));

    private enum DatabaseStatus
    {
        Answering,

        /// <summary>What is asked of it fails, and is tried all the same.</summary>
        Failing,

        /// <summary>It answers nothing, and nobody waits for it.</summary>
        Lost,
    }
}
