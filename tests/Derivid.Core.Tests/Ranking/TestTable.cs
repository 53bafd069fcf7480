using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Tests.Ranking;

/// <summary>A small table and settings for the ranking tests. Compounds are real; every value here is invented.</summary>
/// <remarks>What a test does not ask for is off: wet crystals, values elsewhere, mixed readings, growth of a reading's error.</remarks>
internal static class TestTable
{
    public const string Dnph = "2-4-dinitrophenylhydrazone";
    public const string Semicarbazone = "semicarbazone";

    private static readonly string[] AldehydeTests = ["tollens", "schiff", "fehling"];
    private static readonly string[] ColourKeys = ["yellow", "orange", "red"];

    public static ModelSettings Settings { get; } = new()
    {
        Version = "test",
        DerivativeMelting = Scatter(0, 360),
        ParentMelting = Scatter(-130, 250),
        Boiling = Scatter(-30, 370),
        ScatterFactorByKind = new Dictionary<string, double>(),
        ElsewhereFactorByKind = new Dictionary<string, double>(),
        Depression = new DepressionSettings
        {
            ImpureShareRecrystallised = 0.3,
            ImpureShareUnstated = 0.5,
            ImpureShareCrude = 0.8,
            PureSpanCelsius = 1.2,
            ImpureSpanCelsius = 5,
            BaseCelsius = 1,
            PerSpanCelsius = 0.7,
            WetShare = 0,
            WetLowCelsius = 20,
            WetSpanCelsius = 8,
        },
        Colour = new ColourSettings { CallSteps = 0.8, LapseShare = 0.1, RecordedShare = 0.8 },
        Precipitate = new PrecipitateSettings
        {
            ReadyShare = 0.95,
            SlowShare = 0.6,
            RingClosingShare = 0.3,
            FalseShare = 0.04,
            OilShare = 0.2,
            LowMeltingOilShare = 0.5,
            OilFallCelsius = 40,
        },
        PrecipitateTime = new PrecipitateTimeSettings
        {
            PromptSecondsShare = 0.55,
            PromptHoursShare = 0.1,
            SlowSecondsShare = 0.2,
            SlowHoursShare = 0.35,
        },
        TimeTrustByKind = new Dictionary<string, double> { [Semicarbazone] = 1 },
        MixedMelting = new MixedMeltingSettings
        {
            UnchangedIfSame = 0.97,
            UnchangedIfDifferent = 0.05,
            FusionEntropy = 56.5,
            FusionEntropyFactor = 1.47,
            MoleRatioFactor = 3.3,
        },
        OpenSet = new OpenSetSettings
        {
            Prior = 0.1,
            DerivativeMeltingCelsius = 30,
            ParentMeltingCelsius = 35,
            BoilingCelsius = 30,
            MolarMassGramsPerMole = 25,
            EvenShare = 0.15,
            MixedShare = 0,
            NotCarbonylShare = 0.2,
        },
        State = new StateSettings { SpreadCelsius = 4, MistakeShare = 0.02 },
        ElementFalsePositive = 0.03,
        ElementFalseNegative = 0.05,
        MolarMassGrossShare = 0.02,
        BoilingLow = new BoilingLowSettings { Celsius = 0, GrossShare = 0, GrossCelsius = 10 },
        Care = new CareSettings
        {
            UncheckedCelsius = 0,
            CalibratedCelsius = 0,
            AwayCelsius = 0,
            YearlyCelsius = 0,
            PerSpanCelsius = 0,
            UnstatedSpanCelsius = 1.5,
        },
        Commonness = new CommonnessSettings { EverydayWeight = 4, UsualWeight = 2, RareWeight = 1 },
        GroupLogRatio = 1.15,
    };

    public static TableSnapshot Snapshot(params (string Key, string Smiles, double[] Dnph, double[] Semicarbazone)[] parents) =>
        TableSnapshot.Build(Table(parents), Settings);

    /// <summary>Four ketones and an aldehyde.</summary>
    public static TableSnapshot Five() => Snapshot(
        ("propanone", "CC(C)=O", [126], [188]),
        ("pinacolone", "CC(=O)C(C)(C)C", [125], [157]),
        ("pentan-3-one", "CCC(=O)CC", [156], [139]),
        ("acetophenone", "CC(=O)c1ccccc1", [240], [199]),
        ("benzaldehyde", "O=Cc1ccccc1", [237], [222]));

    public static ReferenceTable Table(params (string Key, string Smiles, double[] Dnph, double[] Semicarbazone)[] parents) =>
        new()
        {
            Version = 1,
            Sources = [new Source("invented", "Invented for the tests", null, SourceGrade.Estimated, "invented", SourceReading.None)],
            Parents = [.. parents.Select(p => new Parent
            {
                Key = p.Key,
                Name = p.Key,
                CasNumber = "0",
                Smiles = p.Smiles,
                Formula = "",
                MolarMass = 100,
                Kind = ParentKind.Ketone,
            })],
            Constants = [],
            Kinds = [Kind(Dnph, colourInforms: true), Kind(Semicarbazone, colourInforms: false)],
            Derivatives = [.. parents.SelectMany(p =>
                p.Dnph.Select((value, i) => Record(p.Key, Dnph, value, i))
                    .Concat(p.Semicarbazone.Select((value, i) => Record(p.Key, Semicarbazone, value, i))))],
            Questions =
            [
                new SpotTestQuestion("aldehyde", "Is it an aldehyde?", 0.02, true, "invented"),
                new SpotTestQuestion("methyl-ketone", "Has it CH3-CO?", 0.02, true, "invented"),
            ],
            SpotTests = [Test("tollens", "aldehyde"), Test("schiff", "aldehyde"), Test("fehling", "aldehyde"), Test("iodoform", "methyl-ketone")],
            Responses =
            [
                .. from test in AldehydeTests select Responds(test, 1, "aldehyde", 0.96, true),
                .. from test in AldehydeTests select Responds(test, 2, "any", 0.04, false),
                Responds("iodoform", 1, "methyl-ketone", 0.95, true),
                Responds("iodoform", 2, "any", 0.05, false),
            ],
            Colours = [.. ColourKeys.Select((key, i) => new Colour(key, key, i, []))],
            ColourExpectations =
            [
                new ColourExpectation(Dnph, 1, "saturated-carbonyl", [0.8, 0.15, 0.05], "invented", true, null),
                new ColourExpectation(Dnph, 2, "any", [0.1, 0.5, 0.4], "invented", true, null),
            ],
            Standards = [],
        };

    public static ParentConstant Constant(
        string parent, ParentProperty property, double celsius, double? highCelsius = null, double? kilopascals = null) =>
        new()
        {
            ParentKey = parent,
            Property = property,
            Low = celsius,
            High = highCelsius ?? celsius,
            PressureKilopascals = kilopascals,
            SourceKey = "invented",
            Verification = Verification.Read,
        };

    private static ScatterSettings Scatter(double lowest, double highest) =>
        new()
        {
            CoreRecalledCelsius = 1.8,
            CoreReadCelsius = 1.3,
            CoreCrossCheckedCelsius = 1,
            ReadingCelsius = 1.2,
            DecompositionCelsius = 2.5,
            HotFactor = 1.3,
            WideShare = 0.13,
            WideCelsius = 9,
            GrossShare = 0.04,
            ElsewhereWorth = 0,
            UnlistedFactor = 1,
            LowestCelsius = lowest,
            HighestCelsius = highest,
        };

    private static DerivativeKind Kind(string key, bool colourInforms) =>
        new()
        {
            Key = key,
            Name = key,
            ReagentName = "reagent",
            ReagentSmiles = "NN",
            ReagentFormula = "H4N2",
            ClosesTo = ClosedRing.Pyrazole,
            ReagentMolarMass = 32.046,
            ReagentsPerCarbonyl = 1,
            WatersPerCarbonyl = 1,
            ColourInforms = colourInforms,
            RecrystallisationSolvents = "ethanol",
            UsualLowCelsius = 0,
            UsualHighCelsius = 360,
            Minutes = 60,
            Hazard = Hazard.Moderate,
            Cautions = $"Caution for the {key}.",
            SourceKey = "invented",
        };

    private static Derivative Record(string parent, string kind, double celsius, int number) =>
        new()
        {
            Key = $"{parent}/{kind}/{number}",
            ParentKey = parent,
            KindKey = kind,
            CarbonylsCondensed = 1,
            LowCelsius = celsius,
            HighCelsius = celsius,
            SourceKey = "invented",
            AsPrinted = "",
            Verification = Verification.Read,
        };

    private static SpotTest Test(string key, string question) =>
        new()
        {
            Key = key,
            Name = key,
            QuestionKey = question,
            PositiveLooksLike = "",
            ReadWithinMinutes = 5,
            Minutes = 5,
            Hazard = Hazard.Low,
            Cautions = $"Caution for {key}.",
            PositiveRateIfYes = 0.95,
            PositiveRateIfNo = 0.05,
            SourceKey = "invented",
        };

    private static SpotTestResponse Responds(string test, int order, string appliesTo, double rate, bool answersYes) =>
        new(test, order, appliesTo, rate, answersYes, true, "invented", null);
}
