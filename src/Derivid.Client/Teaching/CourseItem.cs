using System.Text.Json;

namespace Derivid.Client.Teaching;

/// <summary>A course.</summary>
public sealed record CourseItem
{
    /// <summary>Its id.</summary>
    public required string Id { get; init; }

    /// <summary>Its name.</summary>
    public required string Name { get; init; }

    /// <summary>Version of the reference table the course holds to.</summary>
    public required int TableVersion { get; init; }

    /// <summary>The parents that can be unknowns, by key.</summary>
    public required IReadOnlyList<string> ShelfList { get; init; }

    /// <summary>The derivative kinds that can be made, by key.</summary>
    public required IReadOnlyList<string> DerivativeKinds { get; init; }

    /// <summary>The spot tests that can be run, by key.</summary>
    public required IReadOnlyList<string> SpotTests { get; init; }

    /// <summary>Whether the boiling point of the unknown is taken.</summary>
    public required bool TakesBoilingPoint { get; init; }

    /// <summary>Whether the melting point of a solid unknown is taken.</summary>
    public required bool TakesMeltingPoint { get; init; }

    /// <summary>Half width of the tolerance window in the course's rankings. Units: °C.</summary>
    public required double WindowCelsius { get; init; }

    /// <summary>The rubric, as in its schema.</summary>
    public required JsonElement Rubric { get; init; }

    /// <summary>When reports are due (RFC 3339, UTC). Missing: none is late.</summary>
    public DateTime? DueAt { get; init; }

    /// <summary>From when on no report is taken (RFC 3339, UTC). Missing: until grades are published.</summary>
    public DateTime? ClosesAt { get; init; }

    /// <summary>Reports that may be handed in for one unknown; the last one counts.</summary>
    public required int MostAttempts { get; init; }

    /// <summary>Whether a student sees the engine's ranking of their own report.</summary>
    public required bool ShowsRanking { get; init; }

    /// <summary>Whether class and readings are invented, for showing the service.</summary>
    public required bool IsInvented { get; init; }

    /// <summary>The hand-out in force. Missing: nothing is handed out yet.</summary>
    public int? HandOut { get; init; }

    /// <summary>The grading whose grades students see. Missing: none is published; reports are still taken.</summary>
    public string? PublishedGrading { get; init; }

    /// <summary>When it was made (RFC 3339, UTC).</summary>
    public required DateTime CreatedAt { get; init; }

    /// <summary>Whether the service identifies nothing for its students while it takes their reports.</summary>
    public required bool IsExamination { get; init; }

    /// <summary>What its instructor should know of the service it runs on. Missing: nothing.</summary>
    public IReadOnlyList<string>? Warnings { get; init; }
}
