using System.ComponentModel.DataAnnotations;
using System.Text.Json;

namespace Derivid.Api.Teaching;

/// <summary>A course as its instructor describes it.</summary>
public sealed record CourseRequest
{
    /// <summary>Its name.</summary>
    public required string Name { get; init; }

    /// <summary>Version of the reference table the course holds to. Missing: the current one.</summary>
    [Range(1, int.MaxValue)]
    public int? TableVersion { get; init; }

    /// <summary>The parents that can be unknowns: keys, names, synonyms or CAS numbers.</summary>
    [MinLength(1)]
    [MaxLength(1000)]
    public required IReadOnlyList<string> ShelfList { get; init; }

    /// <summary>The derivative kinds that can be made. Missing: none.</summary>
    [MaxLength(16)]
    public IReadOnlyList<string>? DerivativeKinds { get; init; }

    /// <summary>The spot tests that can be run. Missing: none.</summary>
    [MaxLength(40)]
    public IReadOnlyList<string>? SpotTests { get; init; }

    /// <summary>Whether the boiling point of the unknown is taken. Missing: no.</summary>
    public bool? TakesBoilingPoint { get; init; }

    /// <summary>Whether the melting point of a solid unknown is taken. Missing: no.</summary>
    public bool? TakesMeltingPoint { get; init; }

    /// <summary>Half width of the tolerance window in the course's rankings. Units: °C. Missing: 5.</summary>
    [Range(0.1, 50)]
    public double? WindowCelsius { get; init; }

    /// <summary>The rubric that grades when a grading brings none; see /api/v1/schemas/rubric. Missing: the usual one.</summary>
    public JsonElement? Rubric { get; init; }

    /// <summary>When reports are due (RFC 3339), such as "2026-10-23T17:00:00+02:00". Missing: none is late.</summary>
    public string? DueAt { get; init; }

    /// <summary>From when on no report is taken (RFC 3339), not before it is due. Missing: until grades are published.</summary>
    public string? ClosesAt { get; init; }

    /// <summary>Reports that may be handed in for one unknown; the last one counts. Missing: 1.</summary>
    [Range(1, 20)]
    public int? MostAttempts { get; init; }

    /// <summary>Whether a student sees the engine's ranking of their own report. Missing: no.</summary>
    public bool? ShowsRanking { get; init; }

    /// <summary>Whether class and readings are invented, for showing the service. It can't be changed later. Missing: no.</summary>
    public bool? IsInvented { get; init; }

    /// <summary>
    /// Whether it is an examination: while it takes reports, the service identifies nothing for its students and shows them no
    /// ranking. Missing: no.
    /// </summary>
    public bool? IsExamination { get; init; }
}
