using Derivid.Core.Compounds;
using Derivid.Core.Observations;

namespace Derivid.Core.Ranking;

/// <summary>Every number of the ranking model, in one versioned place.</summary>
/// <remarks>The origin of each number stands beside it in seed-tables/model-settings.json. Thread safety: immutable.</remarks>
public sealed record ModelSettings
{
    /// <summary>Version of the model and its numbers; kept with every identification.</summary>
    public required string Version { get; init; }

    /// <summary>Scatter of derivative melting points.</summary>
    public required ScatterSettings DerivativeMelting { get; init; }

    /// <summary>Factor on the core scatter by derivative kind. Shape: kinds left out count 1.</summary>
    public required IReadOnlyDictionary<string, double> ScatterFactorByKind { get; init; }

    /// <summary>
    /// Factor on <see cref="ScatterSettings.ElsewhereWorth"/> by derivative kind: oximes come in two isomers. Shape: kinds
    /// left out count 1.
    /// </summary>
    public required IReadOnlyDictionary<string, double> ElsewhereFactorByKind { get; init; }

    /// <summary>Scatter of the unknown's own melting point.</summary>
    public required ScatterSettings ParentMelting { get; init; }

    /// <summary>Scatter of boiling points at standard pressure.</summary>
    public required ScatterSettings Boiling { get; init; }

    /// <summary>How boiling points are read low.</summary>
    public required BoilingLowSettings BoilingLow { get; init; }

    /// <summary>How finely temperatures are read.</summary>
    public required CareSettings Care { get; init; }

    /// <summary>Impurity depression.</summary>
    public required DepressionSettings Depression { get; init; }

    /// <summary>Colour calls.</summary>
    public required ColourSettings Colour { get; init; }

    /// <summary>What comes when the unknown is mixed with a reagent.</summary>
    public required PrecipitateSettings Precipitate { get; init; }

    /// <summary>How soon crystals come.</summary>
    public required PrecipitateTimeSettings PrecipitateTime { get; init; }

    /// <summary>
    /// How far the time to the crystals goes by the class of the compound, by derivative kind. Shape: of kinds left out the
    /// time carries no weight. Bounds: above 0 to 1.
    /// </summary>
    public required IReadOnlyDictionary<string, double> TimeTrustByKind { get; init; }

    /// <summary>Mixed melting points.</summary>
    public required MixedMeltingSettings MixedMelting { get; init; }

    /// <summary>What a compound's commonness is worth before any evidence.</summary>
    public required CommonnessSettings Commonness { get; init; }

    /// <summary>The alternative "none of these".</summary>
    public required OpenSetSettings OpenSet { get; init; }

    /// <summary>Liquid or solid.</summary>
    public required StateSettings State { get; init; }

    /// <summary>Probability of finding an element that is not there.</summary>
    public required double ElementFalsePositive { get; init; }

    /// <summary>Probability of missing an element that is there.</summary>
    public required double ElementFalseNegative { get; init; }

    /// <summary>Share of gross errors in a molar mass, even from 0 to 600 g/mol.</summary>
    public required double MolarMassGrossShare { get; init; }

    /// <summary>
    /// Candidates whose log likelihood ratios differ by less than this cannot be told apart. Natural logarithm.
    /// </summary>
    public required double GroupLogRatio { get; init; }
}

/// <summary>What a compound outside the table is thought to look like: a relative of one inside.</summary>
/// <remarks>
/// The likelihood of "none of these" is for the most part the mean, over the parents of the table, of a likelihood that
/// keeps the parent's colour and tests but spreads its temperatures and molar mass. So an unlisted compound may have any
/// plausible combination of properties, and the alternative stays honest when tests and melting points pull together. A
/// share of it is for temperatures that are not of one compound: each is then as likely as from a parent drawn at random
/// for it alone, so that the alternative rises when every candidate explains some reading badly.
/// </remarks>
public sealed record OpenSetSettings
{
    /// <summary>Prior probability of "none of these".</summary>
    public required double Prior { get; init; }

    /// <summary>Spread of a relative's derivative melting points. Units: °C.</summary>
    public required double DerivativeMeltingCelsius { get; init; }

    /// <summary>Spread of a relative's melting point. Units: °C.</summary>
    public required double ParentMeltingCelsius { get; init; }

    /// <summary>Spread of a relative's boiling point. Units: °C.</summary>
    public required double BoilingCelsius { get; init; }

    /// <summary>Spread of a relative's molar mass. Units: g/mol.</summary>
    public required double MolarMassGramsPerMole { get; init; }

    /// <summary>Share of relatives that are like nothing in the table, even over the working range.</summary>
    public required double EvenShare { get; init; }

    /// <summary>Share for temperatures that are not of one compound: a mixture, a bottle changed, another's crystals.</summary>
    public required double MixedShare { get; init; }

    /// <summary>Share of unlisted compounds that are no aldehyde or ketone at all.</summary>
    public required double NotCarbonylShare { get; init; }
}

/// <summary>How often mixing an unknown with a reagent gives crystals, an oil or nothing.</summary>
/// <remarks>
/// A reaction that works gives crystals, or an oil the sooner the lower the derivative melts; one that fails leaves the
/// unknown, which may itself separate as an oil. Where the table has a spot test with the very reagent, the test's rates
/// stand in for <see cref="ReadyShare"/>, <see cref="SlowShare"/> and <see cref="RingClosingShare"/>.
/// </remarks>
public sealed record PrecipitateSettings
{
    /// <summary>Share of mixings that work, for an aldehyde or ketone that forms the derivative readily.</summary>
    public required double ReadyShare { get; init; }

    /// <summary>The same for methanal, a hindered ketone or an open chain of nine carbons or more.</summary>
    public required double SlowShare { get; init; }

    /// <summary>The same for a 1,3-dicarbonyl compound with a reagent that closes a ring with it.</summary>
    public required double RingClosingShare { get; init; }

    /// <summary>Share of mixings that give crystals of something else: of the reagent, of a contamination.</summary>
    public required double FalseShare { get; init; }

    /// <summary>Share of failed mixings in which an oil separates.</summary>
    public required double OilShare { get; init; }

    /// <summary>Share of oils among the products of a derivative that melts at room temperature.</summary>
    public required double LowMeltingOilShare { get; init; }

    /// <summary>Rise of the melting point that divides that share by e. Units: °C.</summary>
    public required double OilFallCelsius { get; init; }

    /// <summary>Share of oils among the products of a reaction that works.</summary>
    /// <param name="celsius">Listed melting point of the derivative. Units: °C.</param>
    /// <returns>Bounds: 0 to <see cref="LowMeltingOilShare"/>; never rises with the melting point.</returns>
    public double OilsAt(double celsius) =>
        LowMeltingOilShare * Math.Exp(-Math.Max(0, celsius - TableSnapshot.RoomCelsius) / OilFallCelsius);
}

/// <summary>How soon the crystals of a derivative come that do come, by the class of the compound.</summary>
public sealed record PrecipitateTimeSettings
{
    /// <summary>Share within seconds, for an aldehyde or an open ketone.</summary>
    public required double PromptSecondsShare { get; init; }

    /// <summary>Share after hours, for the same.</summary>
    public required double PromptHoursShare { get; init; }

    /// <summary>Share within seconds, for a hindered or aromatic ketone or a long open chain.</summary>
    public required double SlowSecondsShare { get; init; }

    /// <summary>Share after hours, for the same.</summary>
    public required double SlowHoursShare { get; init; }

    /// <summary>Probability of a time.</summary>
    /// <param name="time">How soon they came.</param>
    /// <param name="isSlow">Whether the compound is of a slow class.</param>
    public double Of(PrecipitateTime time, bool isSlow)
    {
        var (seconds, hours) = isSlow ? (SlowSecondsShare, SlowHoursShare) : (PromptSecondsShare, PromptHoursShare);
        return time switch
        {
            Observations.PrecipitateTime.Seconds => seconds,
            Observations.PrecipitateTime.Hours => hours,
            _ => 1 - seconds - hours,
        };
    }
}

/// <summary>How far the state of an unknown on the bench tells its melting point.</summary>
public sealed record StateSettings
{
    /// <summary>
    /// Spread about room temperature within which a compound may be met either way: rooms differ, and impure or undercooled
    /// solids stay liquid. Units: °C. Bounds: above 0.
    /// </summary>
    public required double SpreadCelsius { get; init; }

    /// <summary>Probability that the state is put down wrong, or is a solution's.</summary>
    public required double MistakeShare { get; init; }
}

/// <summary>How low a boiling point is read: bulb too high, too little vapour.</summary>
public sealed record BoilingLowSettings
{
    /// <summary>Mean, as a rule. Units: °C. Bounds: 0 up; 0 for none, and no gross ones either.</summary>
    public required double Celsius { get; init; }

    /// <summary>Share of boiling points taken with the bulb out of the vapour.</summary>
    public required double GrossShare { get; init; }

    /// <summary>How far those are read low at the most, as a rule. Units: °C.</summary>
    public required double GrossCelsius { get; init; }
}

/// <summary>Prior weight of a compound by how common it is, where nothing else is known of what was handed out.</summary>
public sealed record CommonnessSettings
{
    /// <summary>Weight of an everyday compound.</summary>
    public required double EverydayWeight { get; init; }

    /// <summary>Weight of a usual one, and of one whose commonness nobody judged.</summary>
    public required double UsualWeight { get; init; }

    /// <summary>Weight of a rare one.</summary>
    public required double RareWeight { get; init; }

    /// <summary>The weight of a compound.</summary>
    /// <param name="commonness">How common it is. Missing: null, not judged.</param>
    public double Of(Commonness? commonness) => commonness switch
    {
        Compounds.Commonness.Everyday => EverydayWeight,
        Compounds.Commonness.Rare => RareWeight,
        _ => UsualWeight,
    };
}

/// <summary>How often a colour is called by its own name.</summary>
public sealed record ColourSettings
{
    /// <summary>Standard deviation of a call along the order of colours. Units: steps of the vocabulary.</summary>
    public required double CallSteps { get; init; }

    /// <summary>Share of calls that have nothing to do with the true colour.</summary>
    public required double LapseShare { get; init; }

    /// <summary>Weight of a recorded colour against the expectation from the structure.</summary>
    public required double RecordedShare { get; init; }
}
