using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Curation;

/// <summary>The kinds of record of the reference table, each registered here and nowhere else.</summary>
/// <remarks>
/// To add a column: a property of the record that may be missing (nullable, a list, or an optional flag), so that rows
/// released before may lack it, a line here, a migration of both engines. To add a kind: a record, a registration here and
/// its place in <see cref="All"/>, a migration, and a file in the seed tables. A kind stands behind those its columns name.
/// </remarks>
public static class RecordKinds
{
    // Lines that mean the same wherever they stand.
    private static readonly ColumnLine OwnKey = new("Key") { Hint = "Small letters, digits and hyphens; never changed later." };
    private static readonly ColumnLine Synonyms = new("Synonyms", "other names");
    private static readonly ColumnLine CasNumber = new("CasNumber", "CAS number");
    private static readonly ColumnLine Locator = new("Locator", "where in the source");
    private static readonly ColumnLine HowFar = new("Verification", "how far it was followed back") { Usual = Verification.Read };
    private static readonly ColumnLine MeasuredBy = new("MeasuredBy", "if measured: by whom");
    private static readonly ColumnLine Instrument = new("Instrument", "if measured: with what");
    private static readonly ColumnLine Determinations = new("Determinations", "if measured: how often");
    private static readonly ColumnLine AppliesTo = new("AppliesTo", "features of the compounds it is for");
    private static readonly ColumnLine Minutes = new("Minutes", "time it takes, min");
    private static readonly ColumnLine CanExplode = new("CanExplode", "can it explode, dry, heated or left standing?") { IsOptionalFlag = true, Usual = false };
    private static readonly ColumnLine Cautions = new("Cautions") { IsLong = true };
    private static readonly ColumnLine Order = new("Order", "place in the order of the rules");
    private static readonly ColumnLine IsAssumed = new("IsAssumed", "is the figure assumed?");
    private static readonly ColumnLine Note = new("Note") { IsLong = true };

    /// <summary>The sources: everything the other rows cite.</summary>
    public static RecordKind<Source> Sources { get; } = new(
        "sources",
        columns:
        [
            OwnKey,
            new(nameof(Source.Citation)) { IsLong = true },
            new(nameof(Source.Address), "web address or DOI"),
            new(nameof(Source.Grade), "how the source got its values"),
            new(nameof(Source.Family), "family: sources that may copy each other"),
            new(nameof(Source.HowRead), "how its values came into the table"),
        ],
        key: [nameof(Source.Key)],
        noun: "source",
        rules: (row, _, findings) => SourceRules.Check(row, findings));

    private static readonly ColumnLine CitedSource = new("SourceKey", "source") { Names = Sources };

    /// <summary>The parent compounds.</summary>
    public static RecordKind<Parent> Parents { get; } = new(
        "parents",
        columns:
        [
            OwnKey with { IsWorkedOut = true },
            nameof(Parent.Name),
            Synonyms,
            CasNumber,
            new(nameof(Parent.Smiles), "structure as SMILES"),
            new(nameof(Parent.Formula)) { IsWorkedOut = true },
            new(nameof(Parent.MolarMass), "molar mass, g/mol") { IsWorkedOut = true },
            new(nameof(Parent.Kind), "carbonyl function") { IsWorkedOut = true },
            new(nameof(Parent.Hazards), "cautions") { IsLong = true },
            new(nameof(Parent.Commonness), "how common"),
            new(nameof(Parent.CommonnessBasis), "what that counts"),
            Note,
        ],
        key: [nameof(Parent.Key)],
        noun: "parent",
        rules: (row, _, findings) => ParentRules.Check(row, findings),
        workOut: WorkedOut.OfParent);

    private static readonly ColumnLine OfParent = new("ParentKey", "compound") { Names = Parents };

    /// <summary>Boiling points, melting points and enthalpies of fusion of the parents.</summary>
    public static RecordKind<ParentConstant> ParentConstants { get; } = new(
        "parent-constants",
        columns:
        [
            OfParent,
            new(nameof(ParentConstant.Property), "what it is"),
            new(nameof(ParentConstant.Low), "lower end") { Hint = "°C; for an enthalpy of fusion J/mol." },
            new(nameof(ParentConstant.High), "upper end") { IsWorkedOut = true, Hint = "°C; for an enthalpy of fusion J/mol." },
            new(nameof(ParentConstant.PressureKilopascals), "at a pressure of, kPa"),
            CitedSource,
            Locator,
            HowFar with { IsWorkedOut = true },
            MeasuredBy,
            Instrument,
            Determinations,
            new(nameof(ParentConstant.Mean), "mean of the determinations"),
            new(nameof(ParentConstant.Spread), "their standard deviation"),
            Note,
        ],
        key: [nameof(ParentConstant.ParentKey), nameof(ParentConstant.Property), nameof(ParentConstant.SourceKey), nameof(ParentConstant.Low)],
        rules: ConstantRules.Check,
        workOut: WorkedOut.OfConstant);

    /// <summary>The questions spot tests ask.</summary>
    public static RecordKind<SpotTestQuestion> SpotTestQuestions { get; } = new(
        "spot-test-questions",
        columns:
        [
            OwnKey,
            nameof(SpotTestQuestion.Text),
            new(nameof(SpotTestQuestion.ContraryRate), "chance that a sample answers against its structure, of 1"),
            IsAssumed,
            CitedSource,
        ],
        key: [nameof(SpotTestQuestion.Key)],
        rules: (row, _, findings) => SpotTestRules.Check(row, findings));

    /// <summary>The spot tests.</summary>
    public static RecordKind<SpotTest> SpotTests { get; } = new(
        "spot-tests",
        columns:
        [
            OwnKey,
            nameof(SpotTest.Name),
            Synonyms,
            new(nameof(SpotTest.QuestionKey), "question it asks") { Names = SpotTestQuestions },
            new(nameof(SpotTest.PositiveLooksLike), "a positive looks like"),
            new(nameof(SpotTest.ReadWithinMinutes), "read within, min"),
            Minutes,
            nameof(SpotTest.Hazard),
            CanExplode,
            Cautions,
            new(nameof(SpotTest.PositiveRateIfYes), "chance of a positive where the answer is yes, of 1"),
            new(nameof(SpotTest.PositiveRateIfNo), "chance of a positive where the answer is no, of 1"),
            nameof(SpotTest.KnownExceptions),
            CitedSource,
        ],
        key: [nameof(SpotTest.Key)],
        noun: "spot test",
        rules: (row, _, findings) => SpotTestRules.Check(row, findings));

    private static readonly ColumnLine OfTest = new("TestKey", "spot test") { Names = SpotTests };

    /// <summary>The kinds of derivative.</summary>
    public static RecordKind<DerivativeKind> DerivativeKinds { get; } = new(
        "derivative-kinds",
        columns:
        [
            OwnKey,
            nameof(DerivativeKind.Name),
            Synonyms,
            new(nameof(DerivativeKind.ReagentName), "reagent"),
            new(nameof(DerivativeKind.ReagentSmiles), "the reagent’s structure as SMILES"),
            new(nameof(DerivativeKind.ReagentFormula), "the reagent’s formula"),
            new(nameof(DerivativeKind.ReagentMolarMass), "the reagent’s molar mass, g/mol"),
            new(nameof(DerivativeKind.ReagentsPerCarbonyl), "molecules of reagent for a carbonyl group"),
            new(nameof(DerivativeKind.WatersPerCarbonyl), "molecules of water lost for a carbonyl group"),
            AppliesTo,
            new(nameof(DerivativeKind.ClosesTo), "ring it may close to instead"),
            OfTest,
            new(nameof(DerivativeKind.ReagentMeltingCelsius), "the reagent itself melts at, °C"),
            new(nameof(DerivativeKind.ColourInforms), "does its colour tell anything?"),
            new(nameof(DerivativeKind.RecrystallisationSolvents), "solvents to recrystallise from"),
            new(nameof(DerivativeKind.UsualLowCelsius), "most of them melt from, °C"),
            new(nameof(DerivativeKind.UsualHighCelsius), "most of them melt to, °C"),
            Minutes,
            nameof(DerivativeKind.Hazard),
            CanExplode,
            Cautions,
            CitedSource,
        ],
        key: [nameof(DerivativeKind.Key)],
        noun: "derivative kind",
        rules: (row, _, findings) => KindRules.Check(row, findings));

    private static readonly ColumnLine OfKind = new("KindKey", "kind of derivative") { Names = DerivativeKinds };

    /// <summary>The vocabulary of colours.</summary>
    public static RecordKind<Colour> Colours { get; } = new(
        "colours",
        columns:
        [
            OwnKey,
            nameof(Colour.Name),
            new(nameof(Colour.Rank), "place in the order of colours"),
            Synonyms,
        ],
        key: [nameof(Colour.Key)],
        order: [nameof(Colour.Rank), nameof(Colour.Key)]);

    /// <summary>The derivative records.</summary>
    public static RecordKind<Derivative> Derivatives { get; } = new(
        "derivatives",
        columns:
        [
            OwnKey with { IsWorkedOut = true, Hint = "The compound’s key, the kind’s key and a number, such as propanone-oxime-2." },
            OfParent,
            OfKind,
            new(nameof(Derivative.CarbonylsCondensed), "carbonyl groups that reacted") { IsWorkedOut = true, Usual = 1 },
            new(nameof(Derivative.Form), "which crystal form, isomer or hydrate"),
            new(nameof(Derivative.LowCelsius), "melts from, °C") { IsWorkedOut = true },
            new(nameof(Derivative.HighCelsius), "melts to, °C") { IsWorkedOut = true },
            new(nameof(Derivative.IsUnusual), "is it outside the usual span of its kind, and looked at again?") { IsOptionalFlag = true, Usual = false },
            new(nameof(Derivative.Decomposes), "does it decompose as it melts?") { IsWorkedOut = true, Usual = false },
            new(nameof(Derivative.ColourKey), "colour") { Names = Colours },
            CitedSource,
            Locator,
            new(nameof(Derivative.AsPrinted), "as the source prints it"),
            new(nameof(Derivative.Corrected), "does the source say the thermometer was corrected?"),
            HowFar with { IsWorkedOut = true },
            MeasuredBy,
            Instrument,
            Determinations,
            new(nameof(Derivative.MeanCelsius), "mean of the determinations, °C"),
            new(nameof(Derivative.SpreadCelsius), "their standard deviation, °C"),
            Note,
        ],
        key: [nameof(Derivative.Key)],
        rules: DerivativeRules.Check,
        workOut: WorkedOut.OfDerivative);

    /// <summary>How classes of parents answer the tests.</summary>
    public static RecordKind<SpotTestResponse> SpotTestResponses { get; } = new(
        "spot-test-responses",
        columns:
        [
            OfTest,
            Order,
            AppliesTo,
            new(nameof(SpotTestResponse.PositiveRate), "chance of a positive, of 1"),
            new(nameof(SpotTestResponse.AnswersYes), "do they answer yes?"),
            IsAssumed,
            CitedSource,
            Note,
        ],
        key: [nameof(SpotTestResponse.TestKey), nameof(SpotTestResponse.Order)],
        rules: SpotTestRules.Check);

    /// <summary>The colours expected of classes of parents.</summary>
    public static RecordKind<ColourExpectation> ColourExpectations { get; } = new(
        "colour-expectations",
        columns:
        [
            OfKind,
            Order,
            new(nameof(ColourExpectation.StructureClass), "class of compounds"),
            new(nameof(ColourExpectation.Weights), "how often each colour, in order of rank"),
            CitedSource,
            IsAssumed,
            Note,
        ],
        key: [nameof(ColourExpectation.KindKey), nameof(ColourExpectation.Order)],
        rules: ColourRules.Check);

    /// <summary>The melting-point standards.</summary>
    public static RecordKind<MeltingPointStandard> MeltingPointStandards { get; } = new(
        "melting-point-standards",
        columns:
        [
            OwnKey,
            nameof(MeltingPointStandard.Name),
            CasNumber,
            new(nameof(MeltingPointStandard.ClearPointCelsius), "last crystal gone at, °C"),
            CitedSource,
            HowFar,
            Note,
        ],
        key: [nameof(MeltingPointStandard.Key)],
        rules: ConstantRules.Check);

    /// <summary>All of them. Shape: in the order in which one may be entered after another.</summary>
    public static IReadOnlyList<RecordKind> All { get; } =
    [
        Sources, Parents, ParentConstants, SpotTestQuestions, SpotTests, DerivativeKinds, Colours, Derivatives,
        SpotTestResponses, ColourExpectations, MeltingPointStandards,
    ];
}
