using System.ComponentModel.DataAnnotations;
using Derivid.Api.Http;

namespace Derivid.Api.Curation;

/// <summary>Which differences to list.</summary>
public sealed record ChangeQuery : PageQuery
{
    /// <summary>Only those of one list, such as "derivatives". Missing: all.</summary>
    [StringLength(40)]
    public string? Table { get; init; }
}
