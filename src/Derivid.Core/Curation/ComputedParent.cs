using Derivid.Core.Compounds;
using Derivid.Core.SpotTests;
using Derivid.Core.Structures;

namespace Derivid.Core.Curation;

/// <summary>Everything about a parent that follows from its structure, for the curator who adds it.</summary>
public sealed record ComputedParent
{
    private const int MostCondensed = 2;

    /// <summary>The formula, in Hill order; the molar mass follows from it.</summary>
    public required MolecularFormula Formula { get; init; }

    /// <summary>Its carbonyl groups and what surrounds them.</summary>
    public required CarbonylEnvironment Environment { get; init; }

    /// <summary>What carbonyl function it brings.</summary>
    public required ParentKind Kind { get; init; }

    /// <summary>How it is expected to answer each spot test.</summary>
    public required IReadOnlyList<ExpectedOutcome> Outcomes { get; init; }

    /// <summary>The derivatives it could form. Shape: by kind, then carbonyls condensed.</summary>
    public required IReadOnlyList<ComputedDerivative> Derivatives { get; init; }

    /// <summary>Parents of the table that may be the same. Shape: same structure first; usually empty.</summary>
    public required IReadOnlyList<LikelyDuplicate> Duplicates { get; init; }

    /// <summary>What speaks against structure and name being a carbonyl compound's. Shape: sentences; usually empty.</summary>
    public required IReadOnlyList<string> Remarks { get; init; }

    /// <summary>Computes it.</summary>
    /// <param name="molecule">The structure.</param>
    /// <param name="name">The name meant for it. Missing: null.</param>
    /// <param name="table">The table it is meant for.</param>
    public static ComputedParent Of(Molecule molecule, string? name, ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(molecule);
        ArgumentNullException.ThrowIfNull(table);
        var environment = CarbonylEnvironment.Of(molecule);
        return new ComputedParent
        {
            Formula = molecule.Formula,
            Environment = environment,
            Kind = ParentRules.KindOf(environment),
            Outcomes = new ExpectedOutcomes(table).Of(null, environment.Features),
            Derivatives = [.. table.Kinds
                .Where(kind => StructureClass.Parse(kind.AppliesTo).Matches(environment.Features))
                .SelectMany(kind => Enumerable.Range(1, Math.Min(environment.CarbonylGroups, MostCondensed))
                    .Select(count => new ComputedDerivative(kind, count, DerivativeFormula.Of(molecule.Formula, kind, count))))],
            Duplicates = [.. SameStructure(molecule, table).Concat(SameName(name, table)).DistinctBy(duplicate => duplicate.Parent.Key)],
            Remarks = [.. RemarksOn(molecule, name)],
        };
    }

    private static IEnumerable<LikelyDuplicate> SameStructure(Molecule molecule, ReferenceTable table)
    {
        var (formula, fingerprint) = (molecule.Formula.ToString(), StructureFingerprint.Of(molecule));
        return table.Parents
            .Where(parent => parent.Formula == formula && SmilesReader.Read(parent.Smiles).Molecule is { } other
                && StructureFingerprint.Of(other) == fingerprint)
            .Select(parent => new LikelyDuplicate(parent, "It has this structure; at most the configuration differs."));
    }

    // By the letters of the name and no fewer: one locant or one carbon more is another compound.
    private static IEnumerable<LikelyDuplicate> SameName(string? name, ReferenceTable table)
    {
        var folded = FoldedName.Of(name ?? "");
        return
            from parent in folded.Length > 0 ? table.Parents : []
            let same = parent.Synonyms.Prepend(parent.Name).FirstOrDefault(other => FoldedName.Of(other) == folded)
            where same is not null
            select new LikelyDuplicate(parent, $"It is called \"{same}\", and has another structure: one of the two is wrong.");
    }

    private static IEnumerable<string> RemarksOn(Molecule molecule, string? name)
    {
        if (!CarbonylSetFree.HasCarbonyl(molecule))
        {
            yield return $"Wanted: {CarbonylSetFree.None}.";
        }

        if (name is not null && CompoundName.WhyNone(name) is { } why)
        {
            yield return $"Wanted: {why}.";
        }
    }
}

/// <summary>A derivative that a structure could form, on paper.</summary>
/// <param name="Kind">The kind.</param>
/// <param name="CarbonylsCondensed">Carbonyl groups that react.</param>
/// <param name="Formula">Its formula; the molar mass follows from it.</param>
public sealed record ComputedDerivative(DerivativeKind Kind, int CarbonylsCondensed, MolecularFormula Formula);

/// <summary>A parent of the table that may be the one a curator is about to add.</summary>
/// <param name="Parent">The parent.</param>
/// <param name="Reason">Why, in a sentence.</param>
public sealed record LikelyDuplicate(Parent Parent, string Reason);
