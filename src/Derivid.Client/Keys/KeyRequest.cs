namespace Derivid.Client.Keys;

/// <summary>A key to be made.</summary>
public sealed record KeyRequest
{
    /// <summary>Whom or what it is for, such as "grading script, organic lab".</summary>
    public required string Name { get; init; }

    /// <summary>What its holder may do; each role may do all that those before it may: student, grader, instructor, administrator.</summary>
    public required Role Role { get; init; }

    /// <summary>For how long it is good. Units: days. Missing: 365.</summary>
    public int? ValidDays { get; init; }
}
