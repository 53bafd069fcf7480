using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Api.Identifications;
using Derivid.Core.Compounds;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>A report.</summary>
public sealed record ReportItem
{
    /// <summary>Its id.</summary>
    public required string Id { get; init; }

    /// <summary>The student.</summary>
    public required string Student { get; init; }

    /// <summary>Number of the unknown among the student's.</summary>
    public required int Number { get; init; }

    /// <summary>First, second ... report on the unknown, from 1.</summary>
    public required int Attempt { get; init; }

    /// <summary>When it was handed in (RFC 3339, UTC). Missing: it is a draft.</summary>
    public DateTime? HandedInAt { get; init; }

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

    /// <summary>Translates.</summary>
    /// <param name="report">The report.</param>
    public static ReportItem Of(CourseReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        var body = JsonSerializer.Deserialize(report.BodyJson, WireJson.Context.ReportBody)!;
        return new ReportItem
        {
            Id = report.Id,
            Student = report.StudentKey,
            Number = report.Number,
            Attempt = report.Attempt,
            HandedInAt = report.HandedInAtUtc,
            Observation = body.Observation,
            ClaimedParent = body.ClaimedParent,
            ClaimedKind = body.ClaimedKind,
            Reasoning = body.Reasoning,
            Notes = body.Notes,
        };
    }
}
