using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Curation;

/// <summary>A structure to be looked at.</summary>
public sealed record StructureRequest
{
    /// <summary>The structure in the OpenSMILES notation.</summary>
    [StringLength(500)]
    public required string Smiles { get; init; }

    /// <summary>The name meant for it, to look for parents of a similar one. Missing: structures only are compared.</summary>
    [StringLength(200)]
    public string? Name { get; init; }
}
