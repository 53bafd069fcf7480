using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Table;

/// <summary>What every list of the table can be asked.</summary>
public record PageQuery
{
    /// <summary>Most rows on one page. Missing: 100.</summary>
    [Range(1, 500)]
    public int? Limit { get; init; }

    /// <summary>Where to go on, as the last page's next link has it; it means nothing else. Missing: from the start.</summary>
    public string? Cursor { get; init; }

    /// <summary>Version of the reference table. Missing: the current one, or the one the cursor began with.</summary>
    [Range(1, int.MaxValue)]
    public int? TableVersion { get; init; }
}
