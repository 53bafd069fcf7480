namespace Derivid.Core.Structures;

/// <summary>A bond while its text is being read.</summary>
internal sealed record DraftBond(int First, int Second, int Position)
{
    /// <summary>The order of a bond whose symbol was left out.</summary>
    public const int LeftOut = 0;

    /// <summary>The order of a bond in a lower-case ring system, until a Kekulé drawing is settled.</summary>
    public const int Aromatic = -1;

    public required int Order { get; set; }
}
