namespace Derivid.Store.Teaching;

/// <summary>The grading of many reports under one rubric and one table version: a job that survives the process.</summary>
public sealed class Grading
{
    /// <summary>Its id.</summary>
    public required string Id { get; init; }

    /// <summary>The course.</summary>
    public required string CourseId { get; init; }

    /// <summary>
    /// Names everything a grade depends on beside report and unknown: hash of rubric, table version, model version and
    /// due date. Two gradings of one basis share their grades.
    /// </summary>
    public required string Basis { get; init; }

    /// <summary>The rubric, as JSON.</summary>
    public required string RubricJson { get; init; }

    /// <summary>The table version.</summary>
    public required int TableVersion { get; init; }

    /// <summary>The version of the ranking model.</summary>
    public required string ModelVersion { get; init; }

    /// <summary>When the reports were due. Units: UTC. Missing: null, none is late.</summary>
    public DateTime? DueAtUtc { get; init; }

    /// <summary>Number of reports.</summary>
    public required int Total { get; init; }

    /// <summary>When it was asked for. Units: UTC.</summary>
    public required DateTime CreatedAtUtc { get; init; }

    /// <summary>Until when one process has it to itself. Units: UTC. Missing: null, nobody has it.</summary>
    public DateTime? LeasedUntilUtc { get; set; }

    /// <summary>When its last report was done. Units: UTC. Missing: null, it is under way.</summary>
    public DateTime? FinishedAtUtc { get; set; }
}
