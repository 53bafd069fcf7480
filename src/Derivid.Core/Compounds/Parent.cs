namespace Derivid.Core.Compounds;

/// <summary>A parent carbonyl compound: what the unknown may turn out to be.</summary>
/// <remarks>Equality: by reference to its lists; compare <see cref="Key"/> to ask whether two are the same compound.</remarks>
public sealed record Parent
{
    /// <summary>Stable key, lower case with hyphens; unique in a table.</summary>
    public required string Key { get; init; }

    /// <summary>The name shown.</summary>
    public required string Name { get; init; }

    /// <summary>Other names in use. Shape: may be empty; never holds <see cref="Name"/>.</summary>
    public IReadOnlyList<string> Synonyms { get; init; } = [];

    /// <summary>CAS Registry Number with a right check digit, such as "67-64-1".</summary>
    public required string CasNumber { get; init; }

    /// <summary>Structure in the OpenSMILES notation.</summary>
    public required string Smiles { get; init; }

    /// <summary>Molecular formula in Hill order, such as "C3H6O".</summary>
    public required string Formula { get; init; }

    /// <summary>Molar mass. Units: g/mol.</summary>
    public required double MolarMass { get; init; }

    /// <summary>Which carbonyl function it brings.</summary>
    public required ParentKind Kind { get; init; }

    /// <summary>Cautions for the compound itself, in the words of the usual sheets. Missing: null.</summary>
    public string? Hazards { get; init; }

    /// <summary>A curator's remark. Missing: null.</summary>
    public string? Note { get; init; }
}
