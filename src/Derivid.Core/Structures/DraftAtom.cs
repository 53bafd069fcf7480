namespace Derivid.Core.Structures;

/// <summary>An atom while its text is being read.</summary>
internal sealed class DraftAtom
{
    public required string Symbol { get; init; }

    public required int Position { get; init; }

    public bool IsAromatic { get; init; }

    public int Charge { get; init; }

    public int? Isotope { get; init; }

    /// <summary>Null until the valence rules have filled it, for an atom of the organic subset.</summary>
    public int? Hydrogens { get; set; }
}
