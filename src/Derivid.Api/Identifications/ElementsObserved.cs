using System.ComponentModel.DataAnnotations;
using Derivid.Core.Observations;

namespace Derivid.Api.Identifications;

/// <summary>Elements looked for in the unknown, as by sodium fusion.</summary>
public sealed record ElementsObserved
{
    /// <summary>Elements found.</summary>
    [MaxLength(6)]
    public IReadOnlyList<DetectableElement>? Present { get; init; }

    /// <summary>Elements looked for and not found.</summary>
    [MaxLength(6)]
    public IReadOnlyList<DetectableElement>? Absent { get; init; }
}
