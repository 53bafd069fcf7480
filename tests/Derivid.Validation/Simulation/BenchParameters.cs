namespace Derivid.Validation.Simulation;

/// <summary>The figures of the simulated teaching bench, none of them the engine's own.</summary>
/// <remarks>
/// Each line says where its figure comes from. "Assumed" means that no published figure was found; README.md lists what
/// moves when it is wrong.
/// </remarks>
public sealed record BenchParameters
{
    /// <summary>The four benches a run measures on. The engine is never told which it is on.</summary>
    public static IReadOnlyList<BenchParameters> All { get; } =
    [
        new()
        {
            Name = "careful",
            OffsetCelsius = 0.3,
            ReadingCelsius = 0.4,
            RecrystallisedShare = 1,
            RecrystallisedImpurity = 0.005,
            Rate = (1, 2),
            GrossShare = 0.01,
            BoilingReadingCelsius = 0.6,
            BoilingLowCelsius = 0.5,
            ContaminationShare = 0.01,
            TestMistakeShare = 0.02,
            ColourCall = (0.06, 0.80, 0.08, 0.02),
        },
        new(),
        new()
        {
            Name = "careless",
            OffsetMeanCelsius = -0.5,
            OffsetCelsius = 2,
            ReadingCelsius = 1.5,
            RecrystallisedShare = 0.3,
            CrudeImpurity = 0.06,
            Rate = (2, 8),
            GrossShare = 0.08,
            WetShare = 0.1,
            BoilingReadingCelsius = 2,
            BoilingLowCelsius = 2.5,
            LowBoilingShare = 0.1,
            ContaminationShare = 0.05,
            TestMistakeShare = 0.12,
            MissingShare = 0.05,
            MislabelledShare = 0.01,
        },
        new()
        {
            Name = "strange",
            DerivativeScatter = new LiteratureScatter((0.40, 1), (0.70, 3), (0.88, 8), (0.95, 16), (1, 60)),
            BoilingScatter = new LiteratureScatter((0.50, 1), (0.80, 3), (0.95, 8), (1, 25)),
            ParentScatter = new LiteratureScatter((0.50, 1), (0.80, 2.5), (0.95, 8), (1, 46)),
            OffsetMeanCelsius = -1.5,
            OffsetCelsius = 1.5,
            ReadingCelsius = 1.2,
            Rate = (1, 8),
            GrossShare = 0.06,
            TensShare = 0.2,
            WetShare = 0.08,
            LowBoilingShare = 0.15,
            BoilingReadingCelsius = 2,
            RecordedColourShare = 0.4,
            ColourCall = (0.20, 0.40, 0.15, 0.10),
            MissingShare = 0.1,
            MislabelledShare = 0.02,
            StrangeSeed = 20_260_731,
        },
    ];

    /// <summary>The bench that settings and rules are fitted on.</summary>
    public static BenchParameters Ordinary => All[1];

    /// <summary>Shares of absent unknowns that a run reports. Chosen.</summary>
    public static IReadOnlyList<double> AbsentShares { get; } = [0.05, 0.1, 0.3];

    /// <summary>The bench's name.</summary>
    public string Name { get; init; } = "ordinary";

    /// <summary>Error of one listed derivative melting point. Source: README.md, "Scatter of listed values".</summary>
    public LiteratureScatter DerivativeScatter { get; init; } = new(
        (0.50, 0.7), (0.75, 1.6), (0.92, 5), (0.965, 10), (0.98, 20), (1, 60));

    /// <summary>
    /// Factor on that error at or above 200 °C: by so much do the recalled handbooks' own alternative values disagree
    /// more there (ratio of medians, 72 pairs against 192).
    /// </summary>
    public double HotScatterFactor { get; init; } = 1.5;

    /// <summary>Temperature from which it applies. Units: °C.</summary>
    public double HotFromCelsius { get; init; } = 200;

    /// <summary>Error of one listed boiling point. Source: as above.</summary>
    public LiteratureScatter BoilingScatter { get; init; } = new(
        (0.50, 0.3), (0.75, 0.8), (0.85, 1.5), (0.916, 3), (0.95, 5), (0.975, 8), (0.9875, 11), (1, 16));

    /// <summary>Error of one listed melting point of a parent. Source: as above.</summary>
    public LiteratureScatter ParentScatter { get; init; } = new(
        (0.50, 0.5), (0.83, 1), (0.89, 1.5), (0.925, 2), (0.95, 4), (0.975, 7), (0.9875, 12), (1, 46));

    /// <summary>Extra scatter of a value listed as decomposing, normal. Units: °C. Assumed.</summary>
    public double DecompositionCelsius { get; init; } = 3;

    /// <summary>An unknown that melts above this is a solid: it is melted, not distilled. Units: °C. Room temperature.</summary>
    public double RoomCelsius { get; init; } = 25;

    /// <summary>
    /// Share of simulated unknowns whose compound has been taken out of the table; smaller shares are reported by leaving
    /// absent ones out. Chosen.
    /// </summary>
    public double AbsentShare { get; init; } = 0.3;

    /// <summary>Mean of the offset of the students' thermometers. Units: °C. Assumed.</summary>
    public double OffsetMeanCelsius { get; init; }

    /// <summary>
    /// Spread of the offset of a student's thermometer, normal, one for all of the student's readings. Units: °C. Assumed
    /// (class thermometers are said to be good to 1 to 2 °C; common practice, no source).
    /// </summary>
    public double OffsetCelsius { get; init; } = 1;

    /// <summary>Spread of reading one clear point, normal. Units: °C. Assumed.</summary>
    public double ReadingCelsius { get; init; } = 0.7;

    /// <summary>Spread of reading one width, normal. Units: °C. Assumed.</summary>
    public double WidthReadingCelsius { get; init; } = 0.3;

    /// <summary>Readings are written down to this. Units: °C. Assumed.</summary>
    public double RoundingCelsius { get; init; } = 0.5;

    /// <summary>Widest range written down. Units: °C. Assumed: wider ones are melted again.</summary>
    public double WidestCelsius { get; init; } = 20;

    /// <summary>Share of students who recrystallise. Assumed.</summary>
    public double RecrystallisedShare { get; init; } = 0.7;

    /// <summary>Median mole fraction of impurity after recrystallising, log-normal. Assumed.</summary>
    public double RecrystallisedImpurity { get; init; } = 0.01;

    /// <summary>Median mole fraction of impurity of crude crystals, log-normal. Assumed.</summary>
    public double CrudeImpurity { get; init; } = 0.04;

    /// <summary>Spread of the logarithm of both. Assumed.</summary>
    public double ImpurityLogSpread { get; init; } = 0.7;

    /// <summary>Most impurity a solid that still looks dry can hold. Assumed.</summary>
    public double MostImpurity { get; init; } = 0.25;

    /// <summary>Mole fraction of impurity beyond which the melt is eutectic. Assumed.</summary>
    public double EutecticMoleFraction { get; init; } = 0.5;

    /// <summary>Least and most share of liquid at which the first liquid is seen. Assumed.</summary>
    public (double Least, double Most) VisibleShare { get; init; } = (0.3, 0.6);

    /// <summary>Least and most heating rate, log-uniform. Units: °C/min. Assumed; manuals ask for 1 to 2.</summary>
    public (double Least, double Most) Rate { get; init; } = (1, 4);

    /// <summary>
    /// Rise of the clear point with the root of the heating rate. Units: °C per root of °C/min. Source: a maker's worked
    /// example for caffeine, 236.1, 236.6 and 236.9 °C at 0.2, 0.5 and 1.0 °C/min (slope 1.3 to 1.5).
    /// </summary>
    public double RateBiasCelsius { get; init; } = 1.4;

    /// <summary>Heating rate of listed values. Units: °C/min. Source: pharmacopoeia practice, about 1 °C/min.</summary>
    public double LiteratureRate { get; init; } = 1;

    /// <summary>Least and most time the last crystals take to go. Units: min. Assumed.</summary>
    public (double Least, double Most) LagMinutes { get; init; } = (0.1, 0.5);

    /// <summary>
    /// Share of derivatives melted wet: they melt low by <see cref="WetLowCelsius"/> and over <see cref="WetWidthCelsius"/>,
    /// whatever the impurity. Assumed.
    /// </summary>
    public double WetShare { get; init; }

    /// <summary>Mean and spread of how low wet crystals melt, normal. Units: °C. Common practice, no source.</summary>
    public (double Mean, double Spread) WetLowCelsius { get; init; } = (20, 5);

    /// <summary>Mean and spread of the width they melt over, normal. Units: °C. Common practice, no source.</summary>
    public (double Mean, double Spread) WetWidthCelsius { get; init; } = (8, 2);

    /// <summary>Share of boiling points read with the bulb out of the vapour. Assumed.</summary>
    public double LowBoilingShare { get; init; }

    /// <summary>Mean and spread of how low those are read, normal. Units: °C. Common practice, no source.</summary>
    public (double Mean, double Spread) LowBoilingCelsius { get; init; } = (10, 3);

    /// <summary>Share of readings that were never taken: derivatives, tests and the unknown's own constant alike. Assumed.</summary>
    public double MissingShare { get; init; }

    /// <summary>Share of bottles that hold another compound of the table than their label says. Assumed.</summary>
    public double MislabelledShare { get; init; }

    /// <summary>
    /// Seed of test rates and colours drawn without regard to the table's; see <see cref="BenchChemistry"/>. Missing: null,
    /// the table's own.
    /// </summary>
    public int? StrangeSeed { get; init; }

    /// <summary>
    /// Seed by which each compound's derivative truly melts as far from its listed value as it does, for whoever makes it. Missing:
    /// null, drawn anew for every student, each of whom is met once.
    /// </summary>
    public int? LastingSeed { get; init; }

    /// <summary>On a strange bench, share of parents that answer a test by a rate of their own, not their class's.</summary>
    public double OwnWaysShare { get; init; }

    /// <summary>Seed of how a course's batches of reagents shift its tests. Missing: null, they don't.</summary>
    public int? ShiftSeed { get; init; }

    /// <summary>Spread of that shift, normal on the logit of a clean sample's rate, one a test. Chosen by whoever sets a seed.</summary>
    public double TestShift { get; init; }

    /// <summary>Share of melting and boiling readings that are gross mistakes. Source: the task's first estimate.</summary>
    public double GrossShare { get; init; } = 0.04;

    /// <summary>Of the gross mistakes, the share that are the tens digit misread; the rest are anything. Assumed.</summary>
    public double TensShare { get; init; } = 0.5;

    /// <summary>Span over which any other gross melting reading lies. Units: °C. Assumed.</summary>
    public (double Least, double Most) GrossMelting { get; init; } = (30, 300);

    /// <summary>Span over which any other gross boiling reading lies. Units: °C. Assumed.</summary>
    public (double Least, double Most) GrossBoiling { get; init; } = (20, 320);

    /// <summary>
    /// Spread that an observer allows an unlisted melting point about those of the parents most alike, and a boiling point
    /// about the groups of Stein and Brown. Units: °C. Of 15 to 40 °C the best or nearly so on the printed values of every
    /// kind, each left out in turn; the groups' own published error is as large.
    /// </summary>
    public double UnlistedCelsius { get; init; } = 25;

    /// <summary>Spread of reading a boiling point, normal. Units: °C. Assumed.</summary>
    public double BoilingReadingCelsius { get; init; } = 1.2;

    /// <summary>Mean by which a boiling point reads low: bulb too high, distilled too fast; exponential. Units: °C. Assumed.</summary>
    public double BoilingLowCelsius { get; init; } = 1.2;

    /// <summary>Probability that a product has a colour recorded for it. Assumed; its neighbours share the rest.</summary>
    public double RecordedColourShare { get; init; } = 0.85;

    /// <summary>
    /// Probabilities of calling a colour one paler, right, one and two darker: wet solids and oils look darker, fine
    /// crystals paler. What is left is any colour at all. Assumed; no frequencies are published.
    /// </summary>
    public (double Paler, double Right, double Darker, double TwoDarker) ColourCall { get; init; } = (0.10, 0.62, 0.18, 0.04);

    /// <summary>
    /// Probability that the sample as a whole answers a question against its structure (an oxidised or contaminated
    /// sample), for all tests of that question. Assumed.
    /// </summary>
    public double ContaminationShare { get; init; } = 0.025;

    /// <summary>
    /// Probability that one test is misread, by itself. With contamination 8 % of outcomes are wrong, the task's first
    /// estimate; no rates are published.
    /// </summary>
    public double TestMistakeShare { get; init; } = 0.058;
}
