using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Practice;

/// <summary>What is to be made, of what and how much: for a parent of the table, or for an unknown by a span of molar mass.</summary>
public sealed record PreparationOrder
{
    /// <summary>The kind of derivative.</summary>
    public required DerivativeKind Kind { get; init; }

    /// <summary>The parent. Missing: null, an unknown.</summary>
    public Parent? Parent { get; init; }

    /// <summary>Molar mass of the carbonyl compound; of a parent that of its formula. Units: g/mol.</summary>
    public required AmountSpan MolarMass { get; init; }

    /// <summary>The carbonyl compound for one derivative. Units: mg.</summary>
    public required double Milligrams { get; init; }

    /// <summary>Density of the carbonyl compound. Units: g/mL. Missing: null, it is weighed.</summary>
    public double? GramsPerMillilitre { get; init; }

    /// <summary>Carbonyl groups of a molecule that are to react, from 1.</summary>
    public int CarbonylsCondensed { get; init; } = 1;

    /// <summary>Reagent beyond what reacts, as a share of that; passed over where it is weighed already.</summary>
    public double ReagentExcess { get; init; } = PreparationScale.UsualExcess;

    /// <summary>What was weighed of the reagent. Units: mg. Missing: null, it is worked out from the excess.</summary>
    public double? ReagentMilligrams { get; init; }

    /// <summary>The form it was weighed in, among those of the kind. Missing: null, the reagent itself, free of acid and water.</summary>
    public PracticeSubstance? ReagentForm { get; init; }

    /// <summary>The product that was weighed, dry. Units: mg. Missing: null, none yet.</summary>
    public double? ProductMilligrams { get; init; }

    /// <summary>How many derivatives, and tests, reagents are made up for; from 1.</summary>
    public int Portions { get; init; } = 1;

    /// <summary>The parent's carbonyl groups and what surrounds them. Missing: null, an unknown, or a structure that can't be read.</summary>
    public CarbonylEnvironment? Environment => Parent is null || SmilesReader.Read(Parent.Smiles).Molecule is not { } molecule
        ? null
        : CarbonylEnvironment.Of(molecule);

    /// <summary>The arithmetic of it.</summary>
    public PreparationPlan Plan()
    {
        var carbonyl = new CarbonylTaken(MolarMass, Milligrams, CarbonylsCondensed);
        return ReagentMilligrams is { } weighed
            ? PreparationPlan.WithReagent(carbonyl, Kind, MillimolesIn(weighed) ?? throw new InvalidOperationException("The form can't be reckoned with."))
            : PreparationPlan.WithExcess(carbonyl, Kind, ReagentExcess);
    }

    /// <summary>Why no preparation is given for it.</summary>
    /// <returns>Shape: what is refused, by its name in the order, with value, what is allowed and why; empty where nothing is.</returns>
    public IReadOnlyList<PreparationRefusal> Refusals()
    {
        var refusals = new List<PreparationRefusal>();
        if (PreparationScale.Refusal(Kind, Milligrams) is { } scale)
        {
            refusals.Add(new(nameof(Milligrams), scale));
        }
        else if (PreparationScale.RefusalInAll(Kind, Milligrams, Portions) is { } inAll)
        {
            refusals.Add(new(nameof(Portions), inAll));
        }

        AddChemistry(refusals);
        if (refusals.Count == 0 && ReagentMilligrams is { } weighed)
        {
            AddWeighed(refusals, weighed);
        }

        return refusals;
    }

    private void AddChemistry(List<PreparationRefusal> refusals)
    {
        if (Parent is null)
        {
            return;
        }

        if (Environment is not { CarbonylGroups: > 0 and var groups } environment)
        {
            refusals.Add(new(nameof(Parent), $"{Parent.Name}: its carbonyl group is set free only under the conditions of the reaction, and the table does not say what else is given off; give a molar mass and reckon with the free compound instead."));
        }
        else if (!StructureClass.Parse(Kind.AppliesTo).Matches(environment.Features))
        {
            refusals.Add(new(nameof(Kind), $"{Kind.Name}: {Parent.Name} does not form it; allowed are compounds with: {Kind.AppliesTo.Replace("+", ", ", StringComparison.Ordinal)}."));
        }
        else if (CarbonylsCondensed > groups)
        {
            refusals.Add(new(nameof(CarbonylsCondensed), FormattableString.Invariant(
                $"{CarbonylsCondensed}; 1 to {groups} is allowed: so many aldehyde and ketone groups {Parent.Name} has.")));
        }
    }

    private void AddWeighed(List<PreparationRefusal> refusals, double weighed)
    {
        if (MillimolesIn(weighed) is null)
        {
            refusals.Add(new(nameof(ReagentForm), $"{ReagentForm!.Name}: no source read says how much of it is reagent; give the reagent by its excess."));
            return;
        }

        // Nothing can be all reagent that there is, and it would limit by so much that no yield comes of it.
        var even = PreparationPlan.WithExcess(new CarbonylTaken(MolarMass, Milligrams, CarbonylsCondensed), Kind, 0).ReagentMillimoles;
        var perMilligram = MillimolesIn(1)!.Value;
        var (least, most) = ((1 + PreparationScale.LeastExcess) * even / perMilligram, (1 + PreparationScale.MostExcess) * even / perMilligram);
        if (weighed < least || weighed > most)
        {
            refusals.Add(new(nameof(ReagentMilligrams), FormattableString.Invariant(
                $"{weighed} mg; {least:0.#} to {most:0.#} mg is allowed with {Milligrams} mg of the carbonyl compound: with less next to nothing comes, more has to be washed out again.")));
        }
    }

    private double? MillimolesIn(double milligrams) => ReagentForm is { } form
        ? form.MillimolesIn(milligrams)
        : milligrams / MolecularFormula.Parse(Kind.ReagentFormula).MolarMass;
}

/// <summary>One reason why no preparation is given.</summary>
/// <param name="Field">What is refused: a property of the order.</param>
/// <param name="Sentence">Its value, what is allowed and why.</param>
public sealed record PreparationRefusal(string Field, string Sentence);
