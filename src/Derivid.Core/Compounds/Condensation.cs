using System.Collections.Immutable;
using System.Diagnostics.CodeAnalysis;
using Derivid.Core.Structures;

namespace Derivid.Core.Compounds;

/// <summary>The structure of a derivative, R₂C=N-X from R₂C=O and H₂N-X; or why it can't be told.</summary>
/// <remarks>
/// The reagent is the kind's own: its one nitrogen with two hydrogens beside another nitrogen or an oxygen takes the place
/// of the carbonyl oxygen. Nothing is guessed: no structure where the kind takes up something else (dimedone), where a
/// ring may close instead (<see cref="DerivativeKind.ClosesTo"/> with a 1,3-dicarbonyl compound), and where carbonyl groups
/// that differ leave open which of them reacts. The configuration at C=N is left open. Equality: by reference.
/// </remarks>
public sealed class Condensation
{
    private Condensation(Molecule product) => Product = product;

    private Condensation(string reason) => Reason = reason;

    /// <summary>The derivative. Missing: null where <see cref="Reason"/> says why.</summary>
    public Molecule? Product { get; }

    /// <summary>Why there is no structure, in a sentence. Missing: null where there is one.</summary>
    public string? Reason { get; }

    /// <summary>Whether the structure can be told.</summary>
    [MemberNotNullWhen(true, nameof(Product))]
    [MemberNotNullWhen(false, nameof(Reason))]
    public bool IsTold => Product is not null;

    /// <summary>Puts parent and reagent together.</summary>
    /// <param name="parent">The parent's structure.</param>
    /// <param name="kind">The kind, with its reagent.</param>
    /// <param name="carbonylsCondensed">Carbonyl groups that react, from 1.</param>
    public static Condensation Of(Molecule parent, DerivativeKind kind, int carbonylsCondensed)
    {
        ArgumentNullException.ThrowIfNull(parent);
        ArgumentNullException.ThrowIfNull(kind);
        ArgumentOutOfRangeException.ThrowIfLessThan(carbonylsCondensed, 1);
        var view = new StructureView(parent);
        int[] carbonyls = [.. Enumerable.Range(0, parent.Atoms.Length).Where(view.IsAldehydeOrKetone)];
        if (carbonylsCondensed > carbonyls.Length)
        {
            return new Condensation(FormattableString.Invariant(
                $"{carbonylsCondensed} carbonyl groups cannot react; the parent has {carbonyls.Length}."));
        }

        if (kind.ClosesTo is not null
            && CarbonylEnvironment.Of(parent).Features.HasFlag(StructureFeature.OneThreeDicarbonyl))
        {
            return new Condensation(
                $"A 1,3-dicarbonyl compound may close a ring with {kind.ReagentName}, "
                + "and the table does not say which product it is.");
        }

        if (kind is not { ReagentsPerCarbonyl: 1, WatersPerCarbonyl: 1 }
            || SmilesReader.Read(kind.ReagentSmiles).Molecule is not { } reagent
            || ReactingNitrogen(reagent) is not int nitrogen)
        {
            return new Condensation(
                $"The table does not say how {kind.ReagentName} joins the parent; "
                + "only C=N from C=O and one H2N group is worked out.");
        }

        Molecule[] products =
            [.. Choices(carbonyls, carbonylsCondensed).Select(chosen => Joined(parent, [.. chosen], reagent, nitrogen))];
        return products.Select(StructureFingerprint.Of).Distinct(StringComparer.Ordinal).Count() == 1
            ? new Condensation(products[0])
            : new Condensation(FormattableString.Invariant(
                $"The parent's {carbonyls.Length} carbonyl groups differ, and the table does not say which of them reacts."));
    }

    /// <summary>Missing: null where there is none or more than one.</summary>
    private static int? ReactingNitrogen(Molecule reagent)
    {
        int[] found = [.. Enumerable.Range(0, reagent.Atoms.Length).Where(atom =>
            reagent.Atoms[atom] is { Symbol: "N", Charge: 0, Hydrogens: 2 }
            && reagent.NeighboursOf(atom) is [var next]
            && reagent.Atoms[next.Atom].Symbol is "N" or "O")];
        return found is [int only] ? only : null;
    }

    private static IEnumerable<ImmutableArray<int>> Choices(IEnumerable<int> from, int count) => count == 0
        ? [[]]
        : from.SelectMany((first, index) =>
            Choices(from.Skip(index + 1), count - 1).Select(rest => rest.Insert(0, first)));

    private static Molecule Joined(Molecule parent, HashSet<int> carbonyls, Molecule reagent, int nitrogen)
    {
        var atoms = ImmutableArray.CreateBuilder<Atom>();
        var bonds = ImmutableArray.CreateBuilder<Bond>();
        int[] leaving = [.. carbonyls.Select(carbonyl => Oxygen(parent, carbonyl))];
        int[] indices = [.. Enumerable.Range(0, parent.Atoms.Length).Select(atom => atom - leaving.Count(gone => gone < atom))];
        atoms.AddRange(parent.Atoms.Where((_, atom) => !leaving.Contains(atom)));
        bonds.AddRange(parent.Bonds
            .Where(bond => !leaving.Contains(bond.First) && !leaving.Contains(bond.Second))
            .Select(bond => bond with { First = indices[bond.First], Second = indices[bond.Second] }));
        foreach (int carbonyl in carbonyls.Order())
        {
            int offset = atoms.Count;
            atoms.AddRange(reagent.Atoms.Select((atom, index) => index == nitrogen ? atom with { Hydrogens = 0 } : atom));
            bonds.AddRange(reagent.Bonds.Select(bond =>
                bond with { First = bond.First + offset, Second = bond.Second + offset }));
            bonds.Add(new Bond(indices[carbonyl], nitrogen + offset, 2));
        }

        return new Molecule(
            atoms.ToImmutable(),
            bonds.ToImmutable(),
            [.. parent.Configurations.Select(given => new DoubleBondConfiguration(
                indices[given.First],
                indices[given.Second],
                indices[given.BesideFirst],
                indices[given.BesideSecond],
                given.SameSide))]);
    }

    private static int Oxygen(Molecule parent, int carbonyl) => parent.NeighboursOf(carbonyl)
        .First(next => next.Order == 2 && parent.Atoms[next.Atom].Symbol == "O").Atom;
}
