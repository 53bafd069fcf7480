using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Teaching;

/// <summary>A student of a roster. No personal data is needed: the institution's own identifier is enough.</summary>
public sealed record RosterStudent
{
    /// <summary>The institution's own identifier.</summary>
    [StringLength(64)]
    public required string Student { get; init; }

    /// <summary>The bench. Missing: no fixed place.</summary>
    [StringLength(64)]
    public string? Bench { get; init; }

    /// <summary>Place along the bench; places whose numbers differ by 1 are beside each other. Missing: no fixed place.</summary>
    [Range(0, 100_000)]
    public int? Place { get; init; }

    /// <summary>Students they work in sight of although the places don't say so. Missing: none.</summary>
    [MaxLength(50)]
    public IReadOnlyList<string>? Neighbours { get; init; }

    /// <summary>
    /// Who they are when they call the service, as GET /api/v1/keys/current tells them: "key:" or "sign-in:" and what
    /// follows. Missing: they don't.
    /// </summary>
    [StringLength(300)]
    public string? Actor { get; init; }
}
