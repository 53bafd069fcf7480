namespace Derivid.Store.Teaching;

/// <summary>A class: what its unknowns are taken from, what its laboratory offers and how its reports are taken.</summary>
/// <remarks>Never deleted. Everything but its id and its making may change; each change raises <see cref="Revision"/>.</remarks>
public sealed class Course
{
    /// <summary>Its id.</summary>
    public required string Id { get; init; }

    /// <summary>The name shown.</summary>
    public required string Name { get; set; }

    /// <summary>Number of the table version the course holds to: handing out, rankings and grades use it.</summary>
    public required int TableVersion { get; set; }

    /// <summary>The parents that can be unknowns.</summary>
    public required IReadOnlyList<string> ShelfKeys { get; set; }

    /// <summary>The derivative kinds that can be made.</summary>
    public required IReadOnlyList<string> KindKeys { get; set; }

    /// <summary>The spot tests that can be run.</summary>
    public required IReadOnlyList<string> SpotTestKeys { get; set; }

    /// <summary>Whether the boiling point of the unknown is taken.</summary>
    public bool TakesBoilingPoint { get; set; }

    /// <summary>Whether the melting point of a solid unknown is taken.</summary>
    public bool TakesMeltingPoint { get; set; }

    /// <summary>Half width of the tolerance window in the course's rankings. Units: °C.</summary>
    public required double WindowCelsius { get; set; }

    /// <summary>The rubric that grades when a request brings none, as JSON.</summary>
    public required string RubricJson { get; set; }

    /// <summary>When reports are due. Units: UTC. Missing: null, none is late.</summary>
    public DateTime? DueAtUtc { get; set; }

    /// <summary>From when on no report is taken. Units: UTC. Missing: null, until grades are published.</summary>
    public DateTime? ClosesAtUtc { get; set; }

    /// <summary>Reports that may be handed in for one unknown.</summary>
    public required int MostAttempts { get; set; }

    /// <summary>Whether a student sees the engine's ranking of their own report.</summary>
    public bool ShowsRanking { get; set; }

    /// <summary>Whether class and readings are invented, for showing the service.</summary>
    public bool IsInvented { get; init; }

    /// <summary>The hand-out in force. Missing: 0, nothing is handed out yet.</summary>
    public int HandOutNumber { get; set; }

    /// <summary>The grading whose grades students see. Missing: null, none yet; reports are still taken.</summary>
    public string? PublishedGradingId { get; set; }

    /// <summary>Whether the service identifies nothing for its students while it takes their reports.</summary>
    public bool IsExamination { get; set; }

    /// <summary>Raised by each change, from 1.</summary>
    public required int Revision { get; set; }

    /// <summary>When it was made. Units: UTC.</summary>
    public required DateTime CreatedAtUtc { get; init; }

    /// <summary>Whether it takes reports: unknowns are handed out, no grades are published and it hasn't closed.</summary>
    /// <param name="now">When. Units: UTC.</param>
    public bool TakesReportsAt(DateTime now) =>
        HandOutNumber > 0 && PublishedGradingId is null && !(ClosesAtUtc <= now);
}
