using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Curation.Imports;

/// <summary>What a file sent is, and what is to be done with it.</summary>
public sealed record ImportQuery
{
    /// <summary>The list its rows belong to, such as "derivatives". Needed.</summary>
    [StringLength(40)]
    public string? Table { get; init; }

    /// <summary>Whether records of the list that the file doesn't hold are to be left out. Missing: false, they stay.</summary>
    public bool? Whole { get; init; }

    /// <summary>Whether the file is only read and checked. Missing: true; send false to have it taken.</summary>
    public bool? DryRun { get; init; }
}
