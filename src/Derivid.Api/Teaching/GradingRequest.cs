using System.ComponentModel.DataAnnotations;
using System.Text.Json;

namespace Derivid.Api.Teaching;

/// <summary>Which reports to grade, and by what. All of it may be left out.</summary>
public sealed record GradingRequest
{
    /// <summary>The reports, by id; each must be the one that counts for its unknown. Missing: all that count.</summary>
    [MinLength(1)]
    [MaxLength(8000)]
    public IReadOnlyList<string>? Reports { get; init; }

    /// <summary>Those of these students only. Missing: of all.</summary>
    [MinLength(1)]
    [MaxLength(2000)]
    public IReadOnlyList<string>? Students { get; init; }

    /// <summary>The rubric; see /api/v1/schemas/rubric. Missing: the course's.</summary>
    public JsonElement? Rubric { get; init; }

    /// <summary>Version of the reference table. Missing: the course's.</summary>
    [Range(1, int.MaxValue)]
    public int? TableVersion { get; init; }
}
