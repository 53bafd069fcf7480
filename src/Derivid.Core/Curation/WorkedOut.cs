using System.Text;
using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Curation;

/// <summary>The records that a file's drafts are meant for, and those that come with it.</summary>
/// <param name="index">The table.</param>
/// <param name="beside">Finds a record that comes with the same file. Missing: null, it holds none of that key.</param>
public sealed class DraftSurroundings(TableIndex index, Func<RecordKind, string, object?> beside)
{
    private readonly HashSet<(RecordKind, string)> _taken = [];
    private readonly Dictionary<string, int> _last = new(StringComparer.Ordinal);
    private readonly Lazy<ILookup<(string, string), Derivative>> _derivatives =
        new(() => index.Table.Derivatives.ToLookup(row => (row.ParentKey, row.KindKey)));

    /// <summary>Says that the file uses a key.</summary>
    /// <param name="kind">The kind of record.</param>
    /// <param name="key">The key.</param>
    public void Use(RecordKind kind, string key) => _taken.Add((kind, key));

    internal object? Find(RecordKind kind, string key) => beside(kind, key) ?? index.Find(kind, key);

    internal IEnumerable<Derivative> DerivativesOf(string parentKey, string kindKey) => _derivatives.Value[(parentKey, kindKey)];

    // Keys end in a number: propanone-oxime-2.
    internal string FreeKey(RecordKind kind, string stem)
    {
        var number = _last.GetValueOrDefault(stem);
        string key;
        do
        {
            key = FormattableString.Invariant($"{stem}-{++number}");
        }
        while (_taken.Contains((kind, key)) || index.Find(kind, key) is not null);
        _last[stem] = number;
        return key;
    }
}

/// <summary>What of a record follows from the rest of it, so that a file may leave it out.</summary>
internal static class WorkedOut
{
    private static readonly (string Letter, string Name)[] GreekLetters =
        [("α", "alpha"), ("β", "beta"), ("γ", "gamma"), ("δ", "delta"), ("ω", "omega")];

    private static readonly string[] FromStructure = [nameof(Parent.Formula), nameof(Parent.MolarMass), nameof(Parent.Kind)];
    private static readonly string[] Ends = [nameof(Derivative.LowCelsius), nameof(Derivative.HighCelsius)];

    public static void OfParent(RecordDraft draft, DraftSurroundings surroundings)
    {
        if (draft.Lacks(nameof(Parent.Key)) && draft[nameof(Parent.Name)] is string name && KeyOf(name) is { Length: > 0 } key)
        {
            draft[nameof(Parent.Key)] = key;
        }

        if (draft[nameof(Parent.Smiles)] is string smiles && SmilesReader.Read(smiles).Molecule is { } molecule)
        {
            Fill(draft, nameof(Parent.Formula), molecule.Formula.ToString());
            Fill(draft, nameof(Parent.MolarMass), Math.Round(molecule.Formula.MolarMass, 2));
            Fill(draft, nameof(Parent.Kind), ParentRules.KindOf(CarbonylEnvironment.Of(molecule)));
        }

        Keep(draft, surroundings);
        if (!draft.Lacks(nameof(Parent.Smiles)))
        {
            // The structure's fault is told, and not what it would have told.
            draft.Unknown(FromStructure);
        }
    }

    public static void OfDerivative(RecordDraft draft, DraftSurroundings surroundings)
    {
        Keep(draft, surroundings);
        Fill(draft, nameof(Derivative.CarbonylsCondensed), 1);
        Fill(draft, nameof(Derivative.Decomposes), false);
        FillState(draft, surroundings);
        if (!draft.Lacks(nameof(Derivative.AsPrinted)) || Ends.Any(draft.IsUnread))
        {
            draft.Unknown(Ends);
        }

        if (draft.Lacks(nameof(Derivative.Key)) && draft[nameof(Derivative.ParentKey)] is string parent && draft[nameof(Derivative.KindKey)] is string kind)
        {
            draft[nameof(Derivative.Key)] = surroundings.DerivativesOf(parent, kind).FirstOrDefault(draft.SaysTheSame)?.Key
                ?? surroundings.FreeKey(draft.Kind, $"{parent}-{kind}");
        }
    }

    public static void OfConstant(RecordDraft draft, DraftSurroundings surroundings)
    {
        Keep(draft, surroundings);
        Fill(draft, nameof(ParentConstant.High), draft[nameof(ParentConstant.Low)]);
        if (draft.IsUnread(nameof(ParentConstant.Low)))
        {
            draft.Unknown(nameof(ParentConstant.High));
        }

        FillState(draft, surroundings);
    }

    /// <summary>Whatever the file has no column for stays as it is listed.</summary>
    public static void Keep(RecordDraft draft, DraftSurroundings surroundings)
    {
        if (draft.Kind.Key.All(column => draft[column.Field] is not null)
            && surroundings.Find(draft.Kind, draft.Kind.KeyOf(draft.Make(0, 0))) is { } listed)
        {
            draft.KeepOf(listed);
        }
    }

    // As the source was read, unless the file says more.
    private static void FillState(RecordDraft draft, DraftSurroundings surroundings)
    {
        if (draft["SourceKey"] is string key && surroundings.Find(RecordKinds.Sources, key) is Source source)
        {
            Fill(draft, "Verification", source.HowRead == SourceReading.Memory ? Verification.Recalled : Verification.Read);
        }
        else if (!draft.Lacks("SourceKey"))
        {
            draft.Unknown("Verification");
        }
    }

    private static void Fill(RecordDraft draft, string field, object? value)
    {
        if (draft.Lacks(field))
        {
            draft[field] = value;
        }
    }

    // Small letters, digits and single hyphens, as the keys of the seed tables are made.
    private static string KeyOf(string name)
    {
        foreach (var (letter, spelled) in GreekLetters)
        {
            name = name.Replace(letter, spelled, StringComparison.Ordinal);
        }

        var key = new StringBuilder();
        foreach (var letter in name.ToLowerInvariant())
        {
            if (char.IsAsciiLetterOrDigit(letter))
            {
                key.Append(letter);
            }
            else if (key.Length > 0 && key[^1] != '-')
            {
                key.Append('-');
            }
        }

        return key.ToString().TrimEnd('-');
    }
}
