using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Curation;

/// <summary>The kinds of record of the reference table, each registered here and nowhere else.</summary>
/// <remarks>
/// To add a column: a property of the record that may be missing (nullable, a list, or an optional flag), so that rows
/// released before may lack it, a line here, a migration of both engines. To add a kind: a record, a registration here and
/// its place in <see cref="All"/>, a migration, and a file in the seed tables.
/// </remarks>
public static class RecordKinds
{
    /// <summary>The sources: everything the other rows cite.</summary>
    public static RecordKind<Source> Sources { get; } = new(
        "sources",
        columns:
        [
            nameof(Source.Key), nameof(Source.Citation), nameof(Source.Address), nameof(Source.Grade),
            nameof(Source.Family), nameof(Source.HowRead),
        ],
        key: [nameof(Source.Key)],
        rules: (row, _, findings) => SourceRules.Check(row, findings));

    /// <summary>The parent compounds.</summary>
    public static RecordKind<Parent> Parents { get; } = new(
        "parents",
        columns:
        [
            nameof(Parent.Key), nameof(Parent.Name), nameof(Parent.Synonyms), nameof(Parent.CasNumber),
            nameof(Parent.Smiles), nameof(Parent.Formula), nameof(Parent.MolarMass), nameof(Parent.Kind),
            nameof(Parent.Hazards), nameof(Parent.Commonness), nameof(Parent.CommonnessBasis), nameof(Parent.Note),
        ],
        key: [nameof(Parent.Key)],
        rules: (row, _, findings) => ParentRules.Check(row, findings));

    /// <summary>Boiling points, melting points and enthalpies of fusion of the parents.</summary>
    public static RecordKind<ParentConstant> ParentConstants { get; } = new(
        "parent-constants",
        columns:
        [
            nameof(ParentConstant.ParentKey), nameof(ParentConstant.Property), nameof(ParentConstant.Low),
            nameof(ParentConstant.High), nameof(ParentConstant.PressureKilopascals), nameof(ParentConstant.SourceKey),
            nameof(ParentConstant.Locator), nameof(ParentConstant.Verification), nameof(ParentConstant.Note),
        ],
        key: [nameof(ParentConstant.ParentKey), nameof(ParentConstant.Property), nameof(ParentConstant.SourceKey), nameof(ParentConstant.Low)],
        rules: ConstantRules.Check);

    /// <summary>The kinds of derivative.</summary>
    public static RecordKind<DerivativeKind> DerivativeKinds { get; } = new(
        "derivative-kinds",
        columns:
        [
            nameof(DerivativeKind.Key), nameof(DerivativeKind.Name), nameof(DerivativeKind.Synonyms),
            nameof(DerivativeKind.ReagentName), nameof(DerivativeKind.ReagentSmiles),
            nameof(DerivativeKind.ReagentFormula), nameof(DerivativeKind.ReagentMolarMass),
            nameof(DerivativeKind.ReagentsPerCarbonyl), nameof(DerivativeKind.WatersPerCarbonyl),
            nameof(DerivativeKind.AppliesTo), nameof(DerivativeKind.ClosesTo), nameof(DerivativeKind.TestKey),
            nameof(DerivativeKind.ReagentMeltingCelsius), nameof(DerivativeKind.ColourInforms),
            nameof(DerivativeKind.RecrystallisationSolvents), nameof(DerivativeKind.UsualLowCelsius),
            nameof(DerivativeKind.UsualHighCelsius), nameof(DerivativeKind.Minutes), nameof(DerivativeKind.Hazard),
            nameof(DerivativeKind.Cautions), nameof(DerivativeKind.SourceKey),
        ],
        key: [nameof(DerivativeKind.Key)],
        rules: KindRules.Check);

    /// <summary>The vocabulary of colours.</summary>
    public static RecordKind<Colour> Colours { get; } = new(
        "colours",
        columns:
        [
            nameof(Colour.Key), nameof(Colour.Name), nameof(Colour.Rank), nameof(Colour.Synonyms),
        ],
        key: [nameof(Colour.Key)],
        order: [nameof(Colour.Rank), nameof(Colour.Key)]);

    /// <summary>The derivative records.</summary>
    public static RecordKind<Derivative> Derivatives { get; } = new(
        "derivatives",
        columns:
        [
            nameof(Derivative.Key), nameof(Derivative.ParentKey), nameof(Derivative.KindKey),
            nameof(Derivative.CarbonylsCondensed), nameof(Derivative.Form), nameof(Derivative.LowCelsius),
            nameof(Derivative.HighCelsius), nameof(Derivative.IsUnusual), nameof(Derivative.Decomposes),
            nameof(Derivative.ColourKey), nameof(Derivative.SourceKey), nameof(Derivative.Locator),
            nameof(Derivative.AsPrinted), nameof(Derivative.Corrected), nameof(Derivative.Verification),
            nameof(Derivative.Note),
        ],
        key: [nameof(Derivative.Key)],
        optional: [nameof(Derivative.IsUnusual)],
        rules: DerivativeRules.Check);

    /// <summary>The questions spot tests ask.</summary>
    public static RecordKind<SpotTestQuestion> SpotTestQuestions { get; } = new(
        "spot-test-questions",
        columns:
        [
            nameof(SpotTestQuestion.Key), nameof(SpotTestQuestion.Text), nameof(SpotTestQuestion.ContraryRate),
            nameof(SpotTestQuestion.IsAssumed), nameof(SpotTestQuestion.SourceKey),
        ],
        key: [nameof(SpotTestQuestion.Key)],
        rules: SpotTestRules.Check);

    /// <summary>The spot tests.</summary>
    public static RecordKind<SpotTest> SpotTests { get; } = new(
        "spot-tests",
        columns:
        [
            nameof(SpotTest.Key), nameof(SpotTest.Name), nameof(SpotTest.Synonyms), nameof(SpotTest.QuestionKey),
            nameof(SpotTest.PositiveLooksLike), nameof(SpotTest.ReadWithinMinutes), nameof(SpotTest.Minutes),
            nameof(SpotTest.Hazard), nameof(SpotTest.Cautions), nameof(SpotTest.PositiveRateIfYes),
            nameof(SpotTest.PositiveRateIfNo), nameof(SpotTest.KnownExceptions), nameof(SpotTest.SourceKey),
        ],
        key: [nameof(SpotTest.Key)],
        rules: SpotTestRules.Check);

    /// <summary>How classes of parents answer the tests.</summary>
    public static RecordKind<SpotTestResponse> SpotTestResponses { get; } = new(
        "spot-test-responses",
        columns:
        [
            nameof(SpotTestResponse.TestKey), nameof(SpotTestResponse.Order), nameof(SpotTestResponse.AppliesTo),
            nameof(SpotTestResponse.PositiveRate), nameof(SpotTestResponse.AnswersYes),
            nameof(SpotTestResponse.IsAssumed), nameof(SpotTestResponse.SourceKey), nameof(SpotTestResponse.Note),
        ],
        key: [nameof(SpotTestResponse.TestKey), nameof(SpotTestResponse.Order)],
        rules: SpotTestRules.Check);

    /// <summary>The colours expected of classes of parents.</summary>
    public static RecordKind<ColourExpectation> ColourExpectations { get; } = new(
        "colour-expectations",
        columns:
        [
            nameof(ColourExpectation.KindKey), nameof(ColourExpectation.Order),
            nameof(ColourExpectation.StructureClass), nameof(ColourExpectation.Weights),
            nameof(ColourExpectation.SourceKey), nameof(ColourExpectation.IsAssumed), nameof(ColourExpectation.Note),
        ],
        key: [nameof(ColourExpectation.KindKey), nameof(ColourExpectation.Order)],
        rules: ColourRules.Check);

    /// <summary>The melting-point standards.</summary>
    public static RecordKind<MeltingPointStandard> MeltingPointStandards { get; } = new(
        "melting-point-standards",
        columns:
        [
            nameof(MeltingPointStandard.Key), nameof(MeltingPointStandard.Name), nameof(MeltingPointStandard.CasNumber),
            nameof(MeltingPointStandard.ClearPointCelsius), nameof(MeltingPointStandard.SourceKey),
            nameof(MeltingPointStandard.Verification), nameof(MeltingPointStandard.Note),
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
