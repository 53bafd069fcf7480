namespace Derivid.Store.Teaching;

/// <summary>One handing out of unknowns, with all that is needed to work it out again. As secret as the identities.</summary>
public sealed record StoredHandOut
{
    /// <summary>The course.</summary>
    public required string CourseId { get; init; }

    /// <summary>First, second ... hand-out of the course, from 1.</summary>
    public required int Number { get; init; }

    /// <summary>The secret everything was drawn from.</summary>
    public required string Seed { get; init; }

    /// <summary>Version of the reference table it was made on.</summary>
    public required int TableVersion { get; init; }

    /// <summary>Version of the ranking model it was made with.</summary>
    public required string ModelVersion { get; init; }

    /// <summary>The shelf list it was taken from.</summary>
    public required IReadOnlyList<string> ShelfKeys { get; init; }

    /// <summary>Rules, what was found out about the shelf, uses and remarks, as JSON.</summary>
    public required string SummaryJson { get; init; }

    /// <summary>When. Units: UTC.</summary>
    public required DateTime HandedOutAtUtc { get; init; }
}

/// <summary>An unknown handed out to a student. Each member of a group has a row of their own, with one code.</summary>
/// <param name="CourseId">The course.</param>
/// <param name="HandOutNumber">The hand-out.</param>
/// <param name="StudentKey">The student.</param>
/// <param name="Number">First, second ... unknown of the student, from 1.</param>
/// <param name="Code">The code on the label.</param>
/// <param name="ParentKey">What is inside. Never leaves the service for a student.</param>
public sealed record Assignment(
    string CourseId, int HandOutNumber, string StudentKey, int Number, string Code, string ParentKey)
{
    /// <summary>The student whose the group's reports are kept as: the first of its members, or the student themself.</summary>
    public string HolderKey { get; init; } = StudentKey;

    /// <summary>What their group was called when unknowns were handed out. Missing: null, they were in none.</summary>
    public string? GroupName { get; init; }

    /// <summary>Without the answer, so that a log line gives nothing away.</summary>
    /// <returns>Code and student.</returns>
    public override string ToString() => $"{Code} for {StudentKey}";
}
