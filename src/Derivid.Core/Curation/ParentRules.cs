using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Curation;

/// <summary>Structure, formula, molar mass, kind and CAS number of a parent must agree.</summary>
internal static class ParentRules
{
    // Molar masses are kept to 0.01 g/mol; the last digit allows for binary fractions. Units: g/mol.
    private const double MassTolerance = 0.005001;

    public static void Check(Parent parent, RecordFindings findings)
    {
        findings.Require(parent.CasNumber is null || Compounds.CasNumber.IsValid(parent.CasNumber), nameof(parent.CasNumber), parent.CasNumber, Compounds.CasNumber.Allowed);
        if (parent.CasNumber is null)
        {
            findings.Lack(nameof(parent.CasNumber), "a CAS number, by which others find the compound; nobody has looked it up");
        }

        foreach (var (name, field) in parent.Synonyms.Select(name => (name, nameof(parent.Synonyms))).Prepend((parent.Name, nameof(parent.Name))))
        {
            if (CompoundName.WhyNone(name) is { } why)
            {
                findings.Expect(false, field, name, why);
            }
        }

        findings.Require(
            !parent.Synonyms.Contains(parent.Name, StringComparer.OrdinalIgnoreCase), nameof(parent.Synonyms), parent.Name,
            "other names than the name itself");
        if (CheckSubstance(
            new Substance(parent.Smiles, parent.Formula, parent.MolarMass),
            (nameof(parent.Smiles), nameof(parent.Formula), nameof(parent.MolarMass)), findings) is { } molecule)
        {
            var kind = KindOf(CarbonylEnvironment.Of(molecule));
            findings.Expect(CarbonylSetFree.HasCarbonyl(molecule), nameof(parent.Smiles), parent.Smiles, CarbonylSetFree.None);
            findings.Expect(!parent.Smiles.Contains('.', StringComparison.Ordinal), nameof(parent.Smiles), parent.Smiles,
                "one molecule; a \".\" parts several, as in a salt or a solvate, whose formula and melting points are not the compound's");
            findings.Require(parent.Kind == kind, nameof(parent.Kind), parent.Kind, $"{kind}, as the structure is drawn");
        }
    }

    /// <summary>Checks a structure against the formula and the molar mass given beside it.</summary>
    /// <returns>The structure. Missing: null, it can't be read.</returns>
    public static Molecule? CheckSubstance(
        Substance given, (string Smiles, string Formula, string MolarMass) fields, RecordFindings findings)
    {
        var reading = SmilesReader.Read(given.Smiles);
        if (!reading.IsRead)
        {
            findings.Require(false, fields.Smiles, given.Smiles, "a structure in the OpenSMILES notation. " + reading.Error.Sentence);
            return null;
        }

        var formula = reading.Molecule.Formula;
        findings.Require(given.Formula == formula.ToString(), fields.Formula, given.Formula, $"{formula}, as the structure has it");
        findings.Require(
            Math.Abs(given.MolarMass - formula.MolarMass) <= MassTolerance, fields.MolarMass, given.MolarMass,
            FormattableString.Invariant($"{formula.MolarMass:0.00} g/mol, as {formula} has it"));
        return reading.Molecule;
    }

    public static ParentKind KindOf(CarbonylEnvironment environment) =>
        (environment.AldehydeGroups > 0, environment.KetoneGroups > 0) switch
        {
            (true, true) => ParentKind.Both,
            (true, false) => ParentKind.Aldehyde,
            (false, true) => ParentKind.Ketone,
            _ => ParentKind.Masked,
        };

    /// <summary>A structure with what is said of it. Units: g/mol.</summary>
    public readonly record struct Substance(string Smiles, string Formula, double MolarMass);
}
