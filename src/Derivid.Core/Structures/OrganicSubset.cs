using System.Buffers;

namespace Derivid.Core.Structures;

/// <summary>Reads an atom written without brackets.</summary>
internal static class OrganicSubset
{
    private const string Allowed =
        "without brackets B, C, N, O, P, S, F, Cl, Br, I and the aromatic b, c, n, o, p, s are read, "
        + "every other atom as in [Se]";

    private static readonly SearchValues<char> Aromatic = SearchValues.Create("bcnops");
    private static readonly SearchValues<char> Aliphatic = SearchValues.Create("BCNOPSFI");

    public static SmilesError? Read(string text, ref int at, out DraftAtom? atom)
    {
        atom = null;
        int start = at;
        ReadOnlySpan<char> rest = text.AsSpan(at);
        string? symbol = rest.StartsWith("Cl", StringComparison.Ordinal) ? "Cl"
            : rest.StartsWith("Br", StringComparison.Ordinal) ? "Br"
            : Aliphatic.Contains(rest[0]) || Aromatic.Contains(rest[0]) ? rest[..1].ToString()
            : null;
        if (symbol is null)
        {
            return new SmilesError(start + 1, Sentence(rest[0]));
        }

        at += symbol.Length;
        bool aromatic = char.IsAsciiLetterLower(symbol[0]);
        atom = new DraftAtom
        {
            Symbol = aromatic ? symbol.ToUpperInvariant() : symbol,
            IsAromatic = aromatic,
            Position = start + 1,
        };
        return null;
    }

    private static string Sentence(char character) => character switch
    {
        '*' => $"The wildcard \"*\" stands for no one atom and is not read; {Allowed}.",
        '>' => "Reactions (\">\") are not read; write one structure.",
        ' ' or '\t' or '\n' or '\r' => "Blanks are not read; write the structure alone, without a name after it.",
        ']' => "\"]\" closes a bracket that was not opened; write bracket atoms as in [NH4+].",
        < ' ' or > '~' => $"The character U+{(int)character:X4} is not read; {Allowed}.",
        _ => $"\"{character}\" is not read here; {Allowed}.",
    };
}
