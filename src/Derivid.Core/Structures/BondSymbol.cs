namespace Derivid.Core.Structures;

/// <summary>A bond symbol and the character it stands at, counted from 1.</summary>
internal sealed record BondSymbol(char Symbol, int Position)
{
    public int Order => Symbol switch
    {
        '=' => 2,
        '#' => 3,
        '$' => 4,
        ':' => DraftBond.Aromatic,
        _ => 1,
    };
}
