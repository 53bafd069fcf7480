using System.Text.Json;

namespace Derivid.Client.Teaching;

/// <summary>Which reports to grade, and by what. All of it may be left out.</summary>
public sealed record GradingRequest
{
    /// <summary>The reports, by id; each must be the one that counts for its unknown. Missing: all that count.</summary>
    public IReadOnlyList<string>? Reports { get; init; }

    /// <summary>Those of these students only. Missing: of all.</summary>
    public IReadOnlyList<string>? Students { get; init; }

    /// <summary>The rubric; see /api/v1/schemas/rubric. Missing: the course's.</summary>
    public JsonElement? Rubric { get; init; }

    /// <summary>Version of the reference table. Missing: the course's.</summary>
    public int? TableVersion { get; init; }
}
