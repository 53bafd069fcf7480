using System.Collections.Frozen;
using System.Text;

namespace Derivid.Core.Structures;

/// <summary>What the ranking needs to know of a structure, most of it about the aldehyde and ketone groups.</summary>
/// <remarks>
/// A feature of a group is set when at least one group of the molecule has it, so a keto-aldehyde has the features of
/// both. "Carbonyl" means an aldehyde or ketone group throughout, never an acid, ester or amide; "aryl" means joined to
/// an aromatic ring atom, furan, thiophene and pyridine included, unless a line says otherwise.
/// Features describe the drawn structure and nothing else: no tautomer is drawn, no acetal is opened.
/// Names in text: <see cref="StructureFeatureNames"/>.
/// </remarks>
[Flags]
public enum StructureFeature : ulong
{
    /// <summary>Nothing of the list.</summary>
    None = 0,

    /// <summary>-CHO on carbon, or methanal.</summary>
    Aldehyde = 1UL << 0,

    /// <summary>C=O between two carbons, each joined by a single bond; quinone carbonyls count.</summary>
    Ketone = 1UL << 1,

    /// <summary>-CHO on a carbon that is no aromatic ring atom, conjugated or not; methanal too.</summary>
    AliphaticAldehyde = 1UL << 2,

    /// <summary>-CHO on an aromatic ring made of carbon only.</summary>
    AromaticAldehyde = 1UL << 3,

    /// <summary>-CHO on an aromatic ring that holds another element, such as furan or pyridine.</summary>
    HeteroaromaticAldehyde = 1UL << 4,

    /// <summary>-CHO on a carbon of a C=C that is not aromatic.</summary>
    ConjugatedEnal = 1UL << 5,

    /// <summary>Methanal itself.</summary>
    Methanal = 1UL << 6,

    /// <summary>Ethanal itself: the one aldehyde with CH3-CHO, which iodoform shows.</summary>
    AcetaldehydeType = 1UL << 7,

    /// <summary>CH3-CO-C.</summary>
    MethylKetone = 1UL << 8,

    /// <summary>CH3-CO-aryl.</summary>
    ArylMethylKetone = 1UL << 9,

    /// <summary>CH3-CH(OH)-C, or ethanol: what iodoform's reagent oxidises to a methyl ketone or ethanal.</summary>
    AlphaMethylCarbinol = 1UL << 10,

    /// <summary>A carbonyl whose neighbour carbons are all sp3: no C=C, C≡C, aryl, C=O or C≡N next to it.</summary>
    SaturatedCarbonyl = 1UL << 11,

    /// <summary>A ketone with a C=C that is not aromatic next to it; a quinone has it too.</summary>
    ConjugatedEnone = 1UL << 12,

    /// <summary>A ketone with such a C=C on either side.</summary>
    CrossConjugatedDienone = 1UL << 13,

    /// <summary>A carbonyl conjugated with two or more C=C that are not aromatic, or with one and an aryl.</summary>
    ExtendedConjugation = 1UL << 14,

    /// <summary>A ketone with an aryl next to it.</summary>
    ArylKetone = 1UL << 15,

    /// <summary>A ketone between two aryls, joined to each other or not.</summary>
    DiarylKetone = 1UL << 16,

    /// <summary>A ketone whose carbonyl carbon is a ring atom.</summary>
    CyclicKetone = 1UL << 17,

    /// <summary>Two carbonyls joined by one bond.</summary>
    OneTwoDicarbonyl = 1UL << 18,

    /// <summary>A carbonyl and a second carbonyl or an ester with one carbon between them.</summary>
    OneThreeDicarbonyl = 1UL << 19,

    /// <summary>A carbonyl with -OH on an sp3 carbon next to it.</summary>
    AlphaHydroxyCarbonyl = 1UL << 20,

    /// <summary>A carbonyl with F, Cl, Br or I on an sp3 carbon next to it.</summary>
    AlphaHaloCarbonyl = 1UL << 21,

    /// <summary>
    /// A ketone with (a) two sp3 neighbours that each carry two or more further carbons, or (b) one sp3 neighbour that
    /// carries three and the other not CH3, or (c) an aryl neighbour, not joined to it in a ring, whose two ortho
    /// positions are carbons without hydrogen. A rule of thumb chosen here: no strain, conformation or size is weighed.
    /// </summary>
    HinderedKetone = 1UL << 22,

    /// <summary>-OH on an aromatic ring carbon, of a carbonyl compound or not.</summary>
    Phenol = 1UL << 23,

    /// <summary>Two carbonyls with one sp3 carbon between them that carries hydrogen.</summary>
    EnolStable = 1UL << 24,

    /// <summary>Any of F, Cl, Br and I, bound or ionic.</summary>
    Halogen = 1UL << 25,

    /// <summary>Contains F.</summary>
    Fluorine = 1UL << 26,

    /// <summary>Contains Cl.</summary>
    Chlorine = 1UL << 27,

    /// <summary>Contains Br.</summary>
    Bromine = 1UL << 28,

    /// <summary>Contains I.</summary>
    Iodine = 1UL << 29,

    /// <summary>-NO2 on carbon, drawn with charges or with two N=O.</summary>
    Nitro = 1UL << 30,

    /// <summary>
    /// A six-membered carbon ring with two ketones ortho or para to each other, its other four atoms all part of C=C
    /// or aromatic rings. Quinones over two rings, and five-membered ones, are not seen.
    /// </summary>
    Quinone = 1UL << 31,

    /// <summary>C=C that is not aromatic.</summary>
    Alkene = 1UL << 32,

    /// <summary>C≡C.</summary>
    Alkyne = 1UL << 33,

    /// <summary>-OH on an sp3 carbon that carries hydrogen and no second oxygen.</summary>
    PrimaryOrSecondaryAlcohol = 1UL << 34,

    /// <summary>-CO-OH or its anion, on carbon or hydrogen.</summary>
    CarboxylicAcid = 1UL << 35,

    /// <summary>-CO-O-C on carbon or hydrogen, lactones included, anhydrides not.</summary>
    Ester = 1UL << 36,

    /// <summary>
    /// Uncharged N outside aromatic rings with single bonds to carbon and hydrogen only, none of those carbons having a
    /// multiple bond to another element (which would make an amide, amidine or cyanamide).
    /// </summary>
    Amine = 1UL << 37,

    /// <summary>Such an amine on an aryl.</summary>
    ArylAmine = 1UL << 38,

    /// <summary>A carbonyl with hydrogen on an sp3 carbon next to it; bridgeheads are not told apart.</summary>
    AlphaHydrogen = 1UL << 39,

    /// <summary>
    /// A carbonyl on a six-membered aromatic ring with O or N ortho or para to it on the same ring, joined by single
    /// bonds only, uncharged or O⁻, and not itself joined to C=O, S=O or N.
    /// </summary>
    ParaDonorAryl = 1UL << 40,

    /// <summary>Contains N.</summary>
    Nitrogen = 1UL << 41,

    /// <summary>Contains S.</summary>
    Sulfur = 1UL << 42,
}

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
