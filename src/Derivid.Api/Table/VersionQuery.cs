using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Table;

/// <summary>Which version of the table to look into.</summary>
public sealed record VersionQuery
{
    /// <summary>Version of the reference table. Missing: the current one.</summary>
    [Range(1, int.MaxValue)]
    public int? TableVersion { get; init; }
}
