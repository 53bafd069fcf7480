using System.ComponentModel.DataAnnotations;
using Derivid.Core.Teaching.Issuing;

namespace Derivid.Api.Courses;

/// <summary>The students of a course.</summary>
public sealed record RosterBody
{
    /// <summary>The students, each once.</summary>
    [MinLength(1)]
    [MaxLength(Roster.LargestCount)]
    public required IReadOnlyList<RosterStudent> Students { get; init; }
}
