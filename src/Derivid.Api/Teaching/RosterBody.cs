using System.ComponentModel.DataAnnotations;
using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Api.Teaching;

/// <summary>The students of a course.</summary>
public sealed record RosterBody
{
    /// <summary>The students, each once.</summary>
    [MinLength(1)]
    [MaxLength(Roster.LargestCount)]
    public required IReadOnlyList<RosterStudent> Students { get; init; }
}
