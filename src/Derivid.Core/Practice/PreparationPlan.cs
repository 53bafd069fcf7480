using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Practice;

/// <summary>What a preparation begins with: a carbonyl compound, or an unknown of which only a span of molar mass is known.</summary>
/// <param name="MolarMass">Its molar mass. Units: g/mol. Bounds: above 0.</param>
/// <param name="Milligrams">How much is taken. Units: mg. Bounds: above 0.</param>
/// <param name="CarbonylsCondensed">Carbonyl groups of a molecule that are to react, from 1.</param>
public sealed record CarbonylTaken(AmountSpan MolarMass, double Milligrams, int CarbonylsCondensed = 1);

/// <summary>Which of the two there is too little of.</summary>
public enum LimitingReactant
{
    /// <summary>The carbonyl compound: some reagent is left over.</summary>
    Carbonyl,

    /// <summary>The reagent: some carbonyl compound is left over.</summary>
    Reagent,

    /// <summary>Neither: both are used up.</summary>
    Neither,

    /// <summary>It depends on where in its span the molar mass lies.</summary>
    Undecided,
}

/// <summary>The arithmetic of one preparation: parent + n reagents − n waters.</summary>
/// <remarks>
/// Of an unknown every amount is a span over its molar mass, and the reagent is reckoned for the smallest, of which there would be the most
/// molecules, so that there is enough in any case. Molar masses are those of the formulas, by <see cref="StandardAtomicWeights"/>.
/// </remarks>
public sealed record PreparationPlan
{
    // What is asked for as 10 % comes back so through divisions.
    private const double Rounding = 1e-9;

    private PreparationPlan(CarbonylTaken carbonyl, DerivativeKind kind)
    {
        Carbonyl = carbonyl;
        Kind = kind;
    }

    /// <summary>The carbonyl compound.</summary>
    public CarbonylTaken Carbonyl { get; }

    /// <summary>The kind made.</summary>
    public DerivativeKind Kind { get; }

    /// <summary>The carbonyl compound taken. Units: mmol.</summary>
    public required AmountSpan CarbonylMillimoles { get; init; }

    /// <summary>Molar mass of the reagent itself, free of acid and water. Units: g/mol.</summary>
    public required double ReagentMolarMass { get; init; }

    /// <summary>The reagent taken. Units: mmol.</summary>
    public required double ReagentMillimoles { get; init; }

    /// <summary>Reagent beyond what reacts with all of the carbonyl compound, as a share of that; below 0 some is missing.</summary>
    public required AmountSpan ReagentExcess { get; init; }

    /// <summary>Which of the two there is too little of.</summary>
    public required LimitingReactant Limiting { get; init; }

    /// <summary>Molar mass of the derivative. Units: g/mol.</summary>
    public required AmountSpan ProductMolarMass { get; init; }

    /// <summary>The most derivative there can be. Units: mmol.</summary>
    public required AmountSpan ProductMillimoles { get; init; }

    /// <summary>The theoretical yield. Units: mg.</summary>
    public required AmountSpan TheoreticalMilligrams { get; init; }

    /// <summary>The reagent itself, free of acid and water. Units: mg.</summary>
    public double ReagentMilligrams => ReagentMillimoles * ReagentMolarMass;

    /// <summary>Plans with an excess of the reagent.</summary>
    /// <param name="carbonyl">The carbonyl compound.</param>
    /// <param name="kind">The kind to make.</param>
    /// <param name="excess">Reagent beyond what reacts, as a share of that. Bounds: above −1; below 0 the reagent limits.</param>
    /// <exception cref="ArgumentOutOfRangeException">An amount is NaN or out of bounds.</exception>
    public static PreparationPlan WithExcess(CarbonylTaken carbonyl, DerivativeKind kind, double excess)
    {
        Check(carbonyl, kind);
        return excess is > -1 and < double.PositiveInfinity
            ? Of(carbonyl, kind, carbonyl.Milligrams / carbonyl.MolarMass.Low * Needed(carbonyl, kind) * (1 + excess))
            : throw new ArgumentOutOfRangeException(nameof(excess), excess, "Must be above -1.");
    }

    /// <summary>Plans with a reagent that is weighed already.</summary>
    /// <param name="carbonyl">The carbonyl compound.</param>
    /// <param name="kind">The kind to make.</param>
    /// <param name="reagentMillimoles">The reagent. Units: mmol. Bounds: above 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">An amount is NaN or out of bounds.</exception>
    public static PreparationPlan WithReagent(CarbonylTaken carbonyl, DerivativeKind kind, double reagentMillimoles)
    {
        Check(carbonyl, kind);
        return reagentMillimoles is > 0 and < double.PositiveInfinity
            ? Of(carbonyl, kind, reagentMillimoles)
            : throw new ArgumentOutOfRangeException(nameof(reagentMillimoles), reagentMillimoles, "Must be above 0.");
    }

    /// <summary>The yield of a product that was weighed, as a share of the theoretical one; above 1 it can't be all product.</summary>
    /// <param name="milligrams">The product, dry. Units: mg. Bounds: 0 or more.</param>
    /// <exception cref="ArgumentOutOfRangeException">The mass is NaN or below 0.</exception>
    public AmountSpan YieldOf(double milligrams) => milligrams >= 0
        ? new AmountSpan(milligrams / TheoreticalMilligrams.High, milligrams / TheoreticalMilligrams.Low)
        : throw new ArgumentOutOfRangeException(nameof(milligrams), milligrams, "Must be 0 or more.");

    private static PreparationPlan Of(CarbonylTaken carbonyl, DerivativeKind kind, double reagentMillimoles)
    {
        var reagent = MolecularFormula.Parse(kind.ReagentFormula).MolarMass;
        var needed = Needed(carbonyl, kind);
        var gain = (needed * reagent) - (carbonyl.CarbonylsCondensed * kind.WatersPerCarbonyl * MolecularFormula.Water.MolarMass);
        var (low, high) = carbonyl.MolarMass;

        // Where both are just used up the yield is at its highest; else it is at the ends.
        var even = Math.Clamp(carbonyl.Milligrams * needed / reagentMillimoles, low, high);
        var excess = AmountSpan.Over(Excess(low), Excess(high));
        return new PreparationPlan(carbonyl, kind)
        {
            CarbonylMillimoles = AmountSpan.Over(Carbonyl(low), Carbonyl(high)),
            ReagentMolarMass = reagent,
            ReagentMillimoles = reagentMillimoles,
            ReagentExcess = excess,
            Limiting = (Sign(excess.Low), Sign(excess.High)) switch
            {
                (0, 0) => LimitingReactant.Neither,
                ( >= 0, _) => LimitingReactant.Carbonyl,
                (_, <= 0) => LimitingReactant.Reagent,
                _ => LimitingReactant.Undecided,
            },
            ProductMolarMass = new AmountSpan(low + gain, high + gain),
            ProductMillimoles = AmountSpan.Over(Product(low), Product(high)),
            TheoreticalMilligrams = AmountSpan.Over(Yield(low), Yield(even), Yield(high)),
        };

        double Carbonyl(double molarMass) => carbonyl.Milligrams / molarMass;
        double Excess(double molarMass) => (reagentMillimoles / (needed * Carbonyl(molarMass))) - 1;
        double Product(double molarMass) => Math.Min(Carbonyl(molarMass), reagentMillimoles / needed);
        double Yield(double molarMass) => Product(molarMass) * (molarMass + gain);
        static int Sign(double share) => Math.Abs(share) < Rounding ? 0 : Math.Sign(share);
    }

    private static int Needed(CarbonylTaken carbonyl, DerivativeKind kind) => carbonyl.CarbonylsCondensed * kind.ReagentsPerCarbonyl;

    private static void Check(CarbonylTaken carbonyl, DerivativeKind kind)
    {
        ArgumentNullException.ThrowIfNull(carbonyl);
        ArgumentNullException.ThrowIfNull(kind);
        ArgumentOutOfRangeException.ThrowIfLessThan(carbonyl.CarbonylsCondensed, 1, nameof(carbonyl));
        if (!(carbonyl.Milligrams > 0 && carbonyl.MolarMass.Low > 0 && carbonyl.MolarMass.High >= carbonyl.MolarMass.Low)
            || double.IsInfinity(carbonyl.Milligrams) || double.IsInfinity(carbonyl.MolarMass.High))
        {
            throw new ArgumentOutOfRangeException(nameof(carbonyl), carbonyl, "Mass and molar mass must be above 0, the lower end first.");
        }
    }
}
