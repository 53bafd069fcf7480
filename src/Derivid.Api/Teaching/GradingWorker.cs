using System.Diagnostics;
using Derivid.Api.Operating;
using Derivid.Api.Table;
using Derivid.Store.Databases;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Grades what is waiting, a batch of each course in turn, and takes up what a killed process left.</summary>
/// <param name="gradings">The gradings.</param>
/// <param name="handOuts">The shelf lists the unknowns were taken from.</param>
/// <param name="tables">The versions of the table.</param>
/// <param name="meter">Counts what was graded.</param>
/// <param name="time">The clock.</param>
/// <param name="log">Takes what went wrong.</param>
public sealed partial class GradingWorker(
    Gradings gradings, HandOuts handOuts, TableSnapshots tables, ServiceMeter meter, TimeProvider time, ILogger<GradingWorker> log)
    : BackgroundService
{
    // Large enough that a transaction costs little, small enough that little is done again and progress shows.
    private const int BatchSize = 100;

    private static readonly TimeSpan Interval = TimeSpan.FromSeconds(2);

    private readonly SemaphoreSlim _asked = new(0);
    private volatile bool _isGrading;
    private volatile int _unfinished;

    /// <summary>Whether it asks the database how many wait, each time it looks; else <see cref="Waiting"/> is not told.</summary>
    public bool CountsWaiting { get; set; }

    /// <summary>How many this process grades.</summary>
    public int Active => _isGrading ? 1 : 0;

    /// <summary>How many more are not finished, as this process saw it last; those that another grades among them.</summary>
    public int Waiting => int.Max(0, _unfinished - Active);

    /// <summary>Says that a grading is waiting, so that nobody waits for the next look.</summary>
    public void Wake() => _asked.Release();

    /// <inheritdoc/>
    public override void Dispose()
    {
        _asked.Dispose();
        base.Dispose();
    }

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        string? lastCourseId = null;
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                while (tables.Current is not null && await gradings.TakeAsync(lastCourseId, stoppingToken) is { } grading)
                {
                    lastCourseId = grading.CourseId;
                    await GradeAsync(grading, stoppingToken);
                    await CountAsync(stoppingToken);
                }

                await CountAsync(stoppingToken);
            }
            catch (DatabaseUnavailableException)
            {
                // The table's watch says so already; what is waiting stays waiting.
            }
            catch (Exception fault) when (fault is not OperationCanceledException)
            {
                Failed(log, fault);
            }

            await _asked.WaitAsync(Interval, stoppingToken);
        }
    }

    private async Task CountAsync(CancellationToken cancellationToken) =>
        _unfinished = CountsWaiting && tables.Current is not null ? await gradings.UnfinishedAsync(cancellationToken) : 0;

    private async Task GradeAsync(Grading grading, CancellationToken cancellationToken)
    {
        using var span = ServiceTrace.Begin("grading batch");
        _isGrading = true;
        try
        {
            await GradeBatchAsync(grading, cancellationToken);
        }
        catch (Exception fault) when (fault is not OperationCanceledException and not DatabaseUnavailableException)
        {
            Failed(log, fault);
            span.SetStatus(ActivityStatusCode.Error);
        }
        finally
        {
            _isGrading = false;
        }
    }

    private async Task GradeBatchAsync(Grading grading, CancellationToken cancellationToken)
    {
        if (!(await tables.FindAsync(grading.TableVersion, cancellationToken)).Succeeded(out var table, out _))
        {
            return;
        }

        var batch = await gradings.WaitingAsync(grading, BatchSize, cancellationToken);
        if (batch.Count == 0)
        {
            if (await gradings.FinishAsync(grading, cancellationToken))
            {
                meter.GradingEnded(
                    await gradings.UngradableAsync(grading, cancellationToken), time.GetUtcNow().UtcDateTime - grading.CreatedAtUtc);
            }

            return;
        }

        var shelves = new Dictionary<int, IReadOnlyList<string>>();
        foreach (var number in batch.Select(row => row.Report.HandOutNumber).Distinct())
        {
            shelves[number] = (await handOuts.FindAsync(grading.CourseId, number, cancellationToken))!.ShelfKeys;
        }

        var (grades, problems) = Grade(batch, shelves, grading, table);
        await gradings.StoreAsync(grading, grades, problems, cancellationToken);
        meter.Graded(grades.Count, problems.Count);
    }

    private (List<CourseGrade> Grades, Dictionary<string, string> Problems) Grade(
        List<ReportToGrade> batch,
        Dictionary<int, IReadOnlyList<string>> shelves,
        Grading grading,
        ServedTable table)
    {
        var rubric = Rubrics.Kept(grading.RubricJson);
        var deadlines = ReportGrading.DeadlinesOf(grading);
        var now = time.GetUtcNow().UtcDateTime;
        var grades = new List<CourseGrade>(batch.Count);
        var problems = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var waiting in batch)
        {
            if (table.ModelVersion != grading.ModelVersion)
            {
                problems[waiting.Report.Id] =
                    $"The grading began with model {grading.ModelVersion}, and this service runs model {table.ModelVersion}; grade again.";
            }
            else if (GradingStart.BasisOf(grading) != grading.Basis)
            {
                problems[waiting.Report.Id] = "The grading began under other marking rules than this service has; grade again.";
            }
            else if (ReportGrading.GradeOf(waiting, shelves[waiting.Report.HandOutNumber], grading, deadlines, rubric, table, now)
                .Succeeded(out var grade, out var problem))
            {
                grades.Add(grade);
            }
            else
            {
                problems[waiting.Report.Id] = problem.Detail;
            }
        }

        return (grades, problems);
    }

    [LoggerMessage(LogLevel.Error, "A grading failed and will be taken up again.")]
    private static partial void Failed(ILogger log, Exception fault);
}
