namespace Derivid.Client.Identifications;

/// <summary>Elements looked for in the unknown, as by sodium fusion.</summary>
public sealed record ElementsObserved
{
    /// <summary>Elements found.</summary>
    public IReadOnlyList<DetectableElement>? Present { get; init; }

    /// <summary>Elements looked for and not found.</summary>
    public IReadOnlyList<DetectableElement>? Absent { get; init; }
}
