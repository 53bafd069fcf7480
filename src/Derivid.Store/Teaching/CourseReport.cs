namespace Derivid.Store.Teaching;

/// <summary>What a student hands in for an assignment. A draft until it is handed in, then never changed.</summary>
public sealed class CourseReport
{
    /// <summary>Its id.</summary>
    public required string Id { get; init; }

    /// <summary>The course.</summary>
    public required string CourseId { get; init; }

    /// <summary>The hand-out.</summary>
    public required int HandOutNumber { get; init; }

    /// <summary>The student; of a group the one under whom its reports are kept, whoever of it wrote this one. See <see cref="Assignment.HolderKey"/>.</summary>
    public required string StudentKey { get; init; }

    /// <summary>Number of the assignment among the student's.</summary>
    public required int Number { get; init; }

    /// <summary>First, second ... report for the assignment, from 1.</summary>
    public int Attempt { get; set; }

    /// <summary>Observation, claim and notes, as JSON.</summary>
    public required string BodyJson { get; set; }

    /// <summary>When it was begun. Units: UTC.</summary>
    public required DateTime CreatedAtUtc { get; init; }

    /// <summary>When it was handed in. Units: UTC. Missing: null, a draft.</summary>
    public DateTime? HandedInAtUtc { get; set; }

    /// <summary>Raised by each change of the draft, from 1.</summary>
    public required int Revision { get; set; }
}

/// <summary>The report that counts for an assignment.</summary>
/// <param name="Id">The report.</param>
/// <param name="StudentKey">The student, as in <see cref="CourseReport.StudentKey"/>.</param>
/// <param name="Number">Number of the assignment among the student's.</param>
/// <param name="Attempt">Which attempt it is.</param>
public sealed record CountedReport(string Id, string StudentKey, int Number, int Attempt);
