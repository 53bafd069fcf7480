namespace Derivid.Store.Teaching;

/// <summary>A student of a course.</summary>
/// <remarks>Never deleted: one who leaves is no longer enrolled, and their reports stay.</remarks>
public sealed class CourseStudent
{
    /// <summary>The course.</summary>
    public required string CourseId { get; init; }

    /// <summary>The institution's own identifier.</summary>
    public required string StudentKey { get; init; }

    /// <summary>The bench. Missing: null, no fixed place.</summary>
    public string? Bench { get; set; }

    /// <summary>Place along the bench. Missing: null, no fixed place.</summary>
    public int? Place { get; set; }

    /// <summary>Students they work in sight of although the places don't say so.</summary>
    public required IReadOnlyList<string> Neighbours { get; set; }

    /// <summary>Who they are when they call the service: "key:…" or "sign-in:…". Missing: null, they don't.</summary>
    public string? Actor { get; set; }

    /// <summary>Whether they still belong to the course.</summary>
    public required bool IsEnrolled { get; set; }
}
