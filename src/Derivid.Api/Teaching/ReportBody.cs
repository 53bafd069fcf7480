using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Api.Identifications;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Core.Observations;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>What a report says, as it is kept: keys for names, figures for texts.</summary>
/// <remarks>It knows the report and the table only: nothing here knows what was handed out.</remarks>
public sealed record ReportBody
{
    private const string Place = "/observation";

    /// <summary>What was seen and measured, in canonical form.</summary>
    public required IdentificationRequest Observation { get; init; }

    /// <summary>The compound claimed, by key. Missing: none.</summary>
    public string? ClaimedParent { get; init; }

    /// <summary>The function claimed, where no compound is. Missing: none.</summary>
    public ParentKind? ClaimedKind { get; init; }

    /// <summary>How the claim follows from what was seen. Missing: none.</summary>
    public string? Reasoning { get; init; }

    /// <summary>Anything else. Missing: none.</summary>
    public string? Notes { get; init; }

    /// <summary>Reads a report as its student writes it.</summary>
    /// <param name="request">The report; its shape has been checked.</param>
    /// <param name="table">The version of the table the course holds to.</param>
    /// <param name="errors">Takes the faults.</param>
    /// <returns>What it says. It means something only while no faults were noted.</returns>
    public static ReportBody Of(ReportRequest request, ServedTable table, FieldErrors errors)
    {
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(errors);
        var sent = request.Observation ?? new IdentificationRequest();
        AddForeign(sent, errors);
        return new ReportBody
        {
            Observation = new CanonicalRequestReader(table, Place, errors).Read(sent).Form with
            {
                TableVersion = null,
                WindowCelsius = null,
                HazardMinutes = null,
                MaximumCandidates = null,
            },
            ClaimedParent = Claimed(request.ClaimedParent, table, errors),
            ClaimedKind = request.ClaimedKind,
            Reasoning = request.Reasoning,
            Notes = request.Notes,
        };
    }

    /// <summary>A body as it was kept.</summary>
    /// <param name="report">The report.</param>
    public static ReportBody Kept(CourseReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return JsonSerializer.Deserialize(report.BodyJson, ServiceContext.Wire.ReportBody)!;
    }

    /// <summary>The body as it is kept.</summary>
    public string ToJson() => JsonSerializer.Serialize(this, ServiceContext.Wire.ReportBody);

    /// <summary>Whether there is nothing in it at all.</summary>
    /// <param name="table">The version of the table it was read by.</param>
    public bool SaysNothing(ServedTable table) =>
        ClaimedParent is null && ClaimedKind is null && string.IsNullOrWhiteSpace(Reasoning) && string.IsNullOrWhiteSpace(Notes)
        && (this with { Reasoning = null, Notes = null }).ToJson() == Of(new ReportRequest { Assignment = "" }, table, new FieldErrors()).ToJson();

    /// <summary>What the engine makes of it: its observation against the shelf it was taken from.</summary>
    /// <param name="course">The course.</param>
    /// <param name="shelfKeys">The shelf list of the hand-out.</param>
    /// <param name="table">The version of the table the course holds to.</param>
    public Outcome<WrittenIdentification> RankingIn(Course course, IReadOnlyList<string> shelfKeys, ServedTable table)
    {
        ArgumentNullException.ThrowIfNull(course);
        var request = Observation with
        {
            Prior = new PriorDescribed { ShelfList = shelfKeys },
            TableVersion = course.TableVersion,
            WindowCelsius = course.WindowCelsius,
        };
        return WrittenIdentification.Of(request, table, Place);
    }

    /// <summary>Its observation, ready for the engine.</summary>
    /// <param name="table">The version of the table.</param>
    public Outcome<Observation> ObservationOn(ServedTable table)
    {
        var errors = new FieldErrors();
        var canonical = new CanonicalRequestReader(table, Place, errors).Read(Observation);
        return errors.ToProblem() is { } problem ? problem : canonical.Observation;
    }

    private static void AddForeign(IdentificationRequest sent, FieldErrors errors)
    {
        (string Name, bool IsSent)[] foreign =
        [
            ("prior", sent.Prior is not null),
            ("windowCelsius", sent.WindowCelsius is not null),
            ("hazardMinutes", sent.HazardMinutes is not null),
            ("tableVersion", sent.TableVersion is not null),
            ("maximumCandidates", sent.MaximumCandidates is not null),
        ];
        foreach (var (name, _) in foreign.Where(item => item.IsSent))
        {
            errors.Add($"{Place}/{name}", "The course decides this; leave it out.");
        }
    }

    private static string? Claimed(string? name, ServedTable table, FieldErrors errors)
    {
        var key = name is null ? null : table.Parents.Find(name);
        if (name is not null && key is null)
        {
            errors.Add("/claimedParent", table.Parents.Unknown(name));
        }

        return key;
    }
}
