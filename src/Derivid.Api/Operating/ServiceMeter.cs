using System.Diagnostics;
using System.Diagnostics.Metrics;
using Derivid.Api.Http;
using Derivid.Api.Identifications;
using Derivid.Core.Curation;

namespace Derivid.Api.Operating;

/// <summary>What the service counts and times itself; what only stands there to be read is <see cref="ServiceGauges"/>.</summary>
/// <remarks>
/// Names and units follow OpenTelemetry's semantic conventions. An attribute has a handful of values, all of them words of this
/// program: no key, person, course, address or text that was sent. Where nobody listens, to count costs a look at a field.
/// deploy/README.md lists the instruments. Thread safety: safe.
/// </remarks>
public sealed class ServiceMeter
{
    /// <summary>The meter's name.</summary>
    public const string Name = "Derivid";

    // Chosen: an import or a grading takes from some tenths of a second to some minutes.
    private static readonly InstrumentAdvice<double> Jobs = new() { HistogramBucketBoundaries = [0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30, 60, 120, 300, 900, 3600] };

    private readonly Counter<long> _identifications;
    private readonly Counter<long> _refusals;
    private readonly Counter<long> _failures;
    private readonly Counter<long> _graded;
    private readonly Counter<long> _imports;
    private readonly Counter<long> _gradings;
    private readonly Histogram<double> _importTimes;
    private readonly Histogram<double> _gradingTimes;

    /// <summary>Makes the instruments.</summary>
    /// <param name="meters">Makes the meter.</param>
    public ServiceMeter(IMeterFactory meters)
    {
        ArgumentNullException.ThrowIfNull(meters);
        var meter = meters.Create(Name);
        _identifications = meter.CreateCounter<long>(
            "derivid.identifications", "{identification}", "Observations weighed, or refused as they could not be.");
        _refusals = meter.CreateCounter<long>("derivid.request.refusals", "{request}", "Requests answered with a problem.");
        _failures = meter.CreateCounter<long>("derivid.request.failures", "{request}", "Requests answered 5xx, but for questions for health.");
        _graded = meter.CreateCounter<long>("derivid.grading.reports", "{report}", "Reports graded, or found not to be gradable.");
        _imports = meter.CreateCounter<long>("derivid.imports", "{import}", "Imports that ended.");
        _gradings = meter.CreateCounter<long>("derivid.gradings", "{grading}", "Gradings that ended.");
        _importTimes = meter.CreateHistogram("derivid.import.duration", "s", "How long imports that ended were worked on.", null, Jobs);
        _gradingTimes = meter.CreateHistogram("derivid.grading.duration", "s", "How long gradings that ended took since they were asked for.", null, Jobs);
    }

    /// <summary>Has every counter tell 0 for all that it may come to count; whoever reads it is there.</summary>
    /// <remarks>A series that first shows up as 1 has not grown for Prometheus, and a rule over its growth would miss the first of a kind.</remarks>
    public void TellNone()
    {
        foreach (var way in Enum.GetValues<IdentificationWay>())
        {
            foreach (var outcome in Enum.GetValues<IdentificationOutcome>().Select(each => (IdentificationOutcome?)each).Append(null))
            {
                AddIdentifications(0, way, outcome, isStored: false);
                AddIdentifications(0, way, outcome, isStored: true);
            }
        }

        foreach (var type in ProblemTypes.All)
        {
            AddRefusals(0, type.Slug, type.Status);
        }

        AddRefusals(0, Refusals.SlowBody, ProblemTypes.InvalidRequest.Status);
        AddFailures(0, StatusCodes.Status500InternalServerError);
        AddFailures(0, StatusCodes.Status503ServiceUnavailable);
        foreach (var state in new[] { ImportState.Succeeded, ImportState.Failed, ImportState.Cancelled, ImportState.Interrupted })
        {
            _imports.Add(0, ToldOf(state, isDryRun: false));
            _imports.Add(0, ToldOf(state, isDryRun: true));
        }

        Graded(0, 0);
        _gradings.Add(0, OutcomeOf(ungradable: 0));
        _gradings.Add(0, OutcomeOf(ungradable: 1));
    }

    /// <summary>Counts an observation that was weighed.</summary>
    /// <param name="way">How it was sent.</param>
    /// <param name="identification">What came of it. Missing: null, it was refused.</param>
    /// <param name="isStored">Whether it is to be kept.</param>
    public void Identified(IdentificationWay way, IdentificationOutcome? identification, bool isStored)
    {
        if (_identifications.Enabled)
        {
            AddIdentifications(1, way, identification, isStored);
        }
    }

    /// <summary>Counts a request that was answered with a problem.</summary>
    /// <param name="reason">A slug of the program's own.</param>
    /// <param name="status">The HTTP status.</param>
    public void Refused(string reason, int status)
    {
        if (_refusals.Enabled)
        {
            AddRefusals(1, reason, status);
        }
    }

    /// <summary>Counts a request that was answered 5xx.</summary>
    /// <param name="status">The HTTP status.</param>
    public void Failed(int status) => AddFailures(1, status);

    /// <summary>Notes an import that ended.</summary>
    /// <param name="state">How.</param>
    /// <param name="isDryRun">Whether nothing was to be changed.</param>
    /// <param name="took">How long it was worked on.</param>
    /// <param name="span">Its span, which is told the same.</param>
    public void Imported(ImportState state, bool isDryRun, TimeSpan took, Activity span)
    {
        ArgumentNullException.ThrowIfNull(span);
        var told = ToldOf(state, isDryRun);
        _imports.Add(1, told);
        _importTimes.Record(took.TotalSeconds, told);
        foreach (var (name, value) in told)
        {
            span.SetTag(name, value);
        }
    }

    /// <summary>Counts an import that was found to have ended with its process; how long it was worked on nobody knows.</summary>
    /// <param name="isDryRun">Whether nothing was to be changed.</param>
    public void ImportLost(bool isDryRun) => _imports.Add(1, ToldOf(ImportState.Interrupted, isDryRun));

    /// <summary>Counts the reports of a batch of a grading.</summary>
    /// <param name="graded">Those graded.</param>
    /// <param name="ungradable">Those that could not be.</param>
    public void Graded(int graded, int ungradable)
    {
        _graded.Add(graded, new KeyValuePair<string, object?>("derivid.grading.outcome", "graded"));
        _graded.Add(ungradable, new KeyValuePair<string, object?>("derivid.grading.outcome", "ungradable"));
    }

    /// <summary>Notes a grading that ended.</summary>
    /// <param name="ungradable">Its reports that could not be graded.</param>
    /// <param name="took">How long it took since it was asked for.</param>
    public void GradingEnded(int ungradable, TimeSpan took)
    {
        _gradings.Add(1, OutcomeOf(ungradable));
        _gradingTimes.Record(took.TotalSeconds, OutcomeOf(ungradable));
    }

    private void AddIdentifications(int count, IdentificationWay way, IdentificationOutcome? outcome, bool isStored) => _identifications.Add(
        count,
        new("derivid.identification.way", way == IdentificationWay.Alone ? "single" : "batch"),
        new("derivid.identification.outcome", WordOf(outcome)),
        new("derivid.identification.stored", isStored));

    private void AddRefusals(int count, string reason, int status) =>
        _refusals.Add(count, new("error.type", reason), new("http.response.status_code", status));

    private void AddFailures(int count, int status) =>
        _failures.Add(count, new KeyValuePair<string, object?>("http.response.status_code", status));

    private static TagList ToldOf(ImportState state, bool isDryRun) =>
        new() { { "derivid.import.outcome", state.ToString().ToLowerInvariant() }, { "derivid.import.dry_run", isDryRun } };

    private static KeyValuePair<string, object?> OutcomeOf(int ungradable) =>
        new("derivid.grading.outcome", ungradable == 0 ? "complete" : "incomplete");

    private static string WordOf(IdentificationOutcome? outcome) => outcome switch
    {
        IdentificationOutcome.Named => "named",
        IdentificationOutcome.Group => "group",
        IdentificationOutcome.None => "none",
        null => "refused",
    };
}
