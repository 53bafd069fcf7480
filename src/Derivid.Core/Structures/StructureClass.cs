namespace Derivid.Core.Structures;

/// <summary>A class of structures, given by the features that all its members have.</summary>
/// <remarks>
/// Text: names of <see cref="StructureFeatureNames"/> joined by "+", such as "aldehyde+phenol"; "any" for all.
/// Equality: by the features, whatever order they were written in. Default value: "any".
/// </remarks>
/// <param name="Required">The features a member has, all of them.</param>
public readonly record struct StructureClass(StructureFeature Required)
{
    private const string AnyName = "any";

    /// <summary>The class of every structure.</summary>
    public static StructureClass Any => default;

    /// <summary>Whether a structure with these features is a member.</summary>
    /// <param name="features">Features of one structure.</param>
    public bool Matches(StructureFeature features) => (features & Required) == Required;

    /// <summary>Reads the text form.</summary>
    /// <param name="text">Names joined by "+", or "any".</param>
    /// <exception cref="ArgumentException">A name is unknown, empty or given twice; the message names it.</exception>
    public static StructureClass Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return TryParse(text, out StructureClass parsed, out string? error)
            ? parsed
            : throw new ArgumentException(error, nameof(text));
    }

    /// <summary>Reads the text form.</summary>
    /// <param name="text">Names joined by "+", or "any".</param>
    /// <param name="parsed">The class, or "any" where the answer is false.</param>
    /// <param name="error">What is wrong, in a sentence. Missing: null where the answer is true.</param>
    /// <returns>Whether the text was read.</returns>
    public static bool TryParse(string? text, out StructureClass parsed, out string? error)
    {
        parsed = Any;
        error = null;
        if (text == AnyName)
        {
            return true;
        }

        StructureFeature required = StructureFeature.None;
        foreach (string name in (text ?? "").Split('+'))
        {
            if (!StructureFeatureNames.TryParse(name, out StructureFeature feature))
            {
                error = $"\"{name}\" is no structure feature; allowed are \"{AnyName}\" alone, or joined by \"+\": "
                    + string.Join(", ", StructureFeatureNames.All) + ".";
                return false;
            }

            if ((required & feature) != 0)
            {
                error = $"\"{name}\" is named twice; name each structure feature once.";
                return false;
            }

            required |= feature;
        }

        parsed = new StructureClass(required);
        return true;
    }

    /// <summary>The text form, names in declared order.</summary>
    public override string ToString() =>
        Required == StructureFeature.None ? AnyName : string.Join('+', StructureFeatureNames.Of(Required));
}
