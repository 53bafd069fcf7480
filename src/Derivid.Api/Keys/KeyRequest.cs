using System.ComponentModel.DataAnnotations;
using Derivid.Store.Access;

namespace Derivid.Api.Keys;

/// <summary>A key to be made.</summary>
public sealed record KeyRequest
{
    /// <summary>Days a key is good for when nothing is said.</summary>
    public const int DefaultValidDays = 365;

    /// <summary>Whom or what it is for, such as "grading script, organic lab".</summary>
    public required string Name { get; init; }

    /// <summary>What its holder may do; each role may do all that those before it may: student, grader, instructor, administrator.</summary>
    public required Role Role { get; init; }

    /// <summary>For how long it is good. Units: days. Missing: 365.</summary>
    [Range(1, 3650)]
    public int? ValidDays { get; init; }
}
