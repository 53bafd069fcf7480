using System.Collections.Frozen;
using System.Text;

namespace Derivid.Core.Structures;

/// <summary>The names of <see cref="StructureFeature"/> in tables and requests: lower case with hyphens.</summary>
/// <remarks>Made from the member's own: <c>MethylKetone</c> is "methyl-ketone".</remarks>
public static class StructureFeatureNames
{
    private static readonly StructureFeature[] Members =
        [.. Enum.GetValues<StructureFeature>().Where(feature => feature != StructureFeature.None).Order()];

    private static readonly FrozenDictionary<string, StructureFeature> ByName =
        Members.ToFrozenDictionary(Hyphenated, StringComparer.Ordinal);

    /// <summary>Every name. Shape: one a feature, in the order the features are declared.</summary>
    public static IReadOnlyList<string> All { get; } = [.. Members.Select(Hyphenated)];

    /// <summary>The names of the features that are set.</summary>
    /// <param name="features">Any combination.</param>
    /// <returns>Shape: declared order; empty for none.</returns>
    public static IReadOnlyList<string> Of(StructureFeature features) =>
        [.. Members.Where(member => (features & member) != 0).Select(Hyphenated)];

    /// <summary>Reads one name.</summary>
    /// <param name="name">The name, in lower case with hyphens.</param>
    /// <param name="feature">The feature, or none where the answer is false.</param>
    /// <returns>Whether there is such a feature.</returns>
    public static bool TryParse(string? name, out StructureFeature feature)
    {
        feature = StructureFeature.None;
        return name is not null && ByName.TryGetValue(name, out feature);
    }

    private static string Hyphenated(StructureFeature feature)
    {
        var name = new StringBuilder();
        foreach (char letter in feature.ToString())
        {
            if (char.IsAsciiLetterUpper(letter) && name.Length > 0)
            {
                name.Append('-');
            }

            name.Append(char.ToLowerInvariant(letter));
        }

        return name.ToString();
    }
}
