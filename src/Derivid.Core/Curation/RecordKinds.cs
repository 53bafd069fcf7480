using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Curation;

/// <summary>The kinds of record of the reference table, each registered here and nowhere else.</summary>
/// <remarks>
/// To add a column: a property of the record that may be missing (nullable, a list, or an optional flag), so that rows
/// released before may lack it, a line here, a migration of both engines. To add a kind: a record, a registration here and its place in <see cref="All"/>, a migration, and a file
/// in the seed tables.
/// </remarks>
public static class RecordKinds
{
    /// <summary>The sources: everything the other rows cite.</summary>
    public static RecordKind<Source> Sources { get; } = new(
        "sources",
        columns:
        [
            ("source_key", nameof(Source.Key)), ("citation", nameof(Source.Citation)),
            ("address", nameof(Source.Address)), ("grade", nameof(Source.Grade)), ("family", nameof(Source.Family)),
            ("how_read", nameof(Source.HowRead)),
        ],
        key: [nameof(Source.Key)],
        rules: (row, _, findings) => SourceRules.Check(row, findings));

    /// <summary>The parent compounds.</summary>
    public static RecordKind<Parent> Parents { get; } = new(
        "parents",
        columns:
        [
            ("parent_key", nameof(Parent.Key)), ("name", nameof(Parent.Name)), ("synonyms", nameof(Parent.Synonyms)),
            ("cas_number", nameof(Parent.CasNumber)), ("smiles", nameof(Parent.Smiles)),
            ("formula", nameof(Parent.Formula)), ("molar_mass_g_mol", nameof(Parent.MolarMass)),
            ("kind", nameof(Parent.Kind)), ("hazards", nameof(Parent.Hazards)), ("note", nameof(Parent.Note)),
        ],
        key: [nameof(Parent.Key)],
        rules: (row, _, findings) => ParentRules.Check(row, findings));

    /// <summary>Boiling points, melting points and enthalpies of fusion of the parents.</summary>
    public static RecordKind<ParentConstant> ParentConstants { get; } = new(
        "parent-constants",
        columns:
        [
            ("parent_key", nameof(ParentConstant.ParentKey)), ("property", nameof(ParentConstant.Property)),
            ("low", nameof(ParentConstant.Low)), ("high", nameof(ParentConstant.High)),
            ("pressure_kpa", nameof(ParentConstant.PressureKilopascals)),
            ("source_key", nameof(ParentConstant.SourceKey)), ("locator", nameof(ParentConstant.Locator)),
            ("verification", nameof(ParentConstant.Verification)), ("note", nameof(ParentConstant.Note)),
        ],
        key: [nameof(ParentConstant.ParentKey), nameof(ParentConstant.Property), nameof(ParentConstant.SourceKey), nameof(ParentConstant.Low)],
        rules: ConstantRules.Check);

    /// <summary>The kinds of derivative.</summary>
    public static RecordKind<DerivativeKind> DerivativeKinds { get; } = new(
        "derivative-kinds",
        columns:
        [
            ("kind_key", nameof(DerivativeKind.Key)), ("name", nameof(DerivativeKind.Name)),
            ("synonyms", nameof(DerivativeKind.Synonyms)), ("reagent_name", nameof(DerivativeKind.ReagentName)),
            ("reagent_smiles", nameof(DerivativeKind.ReagentSmiles)),
            ("reagent_formula", nameof(DerivativeKind.ReagentFormula)),
            ("reagent_molar_mass_g_mol", nameof(DerivativeKind.ReagentMolarMass)),
            ("reagents_per_carbonyl", nameof(DerivativeKind.ReagentsPerCarbonyl)),
            ("waters_per_carbonyl", nameof(DerivativeKind.WatersPerCarbonyl)),
            ("applies_to", nameof(DerivativeKind.AppliesTo)), ("closes_to", nameof(DerivativeKind.ClosesTo)),
            ("test_key", nameof(DerivativeKind.TestKey)),
            ("reagent_melting_celsius", nameof(DerivativeKind.ReagentMeltingCelsius)),
            ("colour_informs", nameof(DerivativeKind.ColourInforms)),
            ("recrystallisation_solvents", nameof(DerivativeKind.RecrystallisationSolvents)),
            ("usual_low_celsius", nameof(DerivativeKind.UsualLowCelsius)),
            ("usual_high_celsius", nameof(DerivativeKind.UsualHighCelsius)),
            ("minutes", nameof(DerivativeKind.Minutes)), ("hazard", nameof(DerivativeKind.Hazard)),
            ("cautions", nameof(DerivativeKind.Cautions)), ("source_key", nameof(DerivativeKind.SourceKey)),
        ],
        key: [nameof(DerivativeKind.Key)],
        rules: KindRules.Check);

    /// <summary>The vocabulary of colours.</summary>
    public static RecordKind<Colour> Colours { get; } = new(
        "colours",
        columns:
        [
            ("colour_key", nameof(Colour.Key)), ("name", nameof(Colour.Name)), ("rank", nameof(Colour.Rank)),
            ("synonyms", nameof(Colour.Synonyms)),
        ],
        key: [nameof(Colour.Key)],
        order: [nameof(Colour.Rank), nameof(Colour.Key)]);

    /// <summary>The derivative records.</summary>
    public static RecordKind<Derivative> Derivatives { get; } = new(
        "derivatives",
        columns:
        [
            ("derivative_key", nameof(Derivative.Key)), ("parent_key", nameof(Derivative.ParentKey)),
            ("kind_key", nameof(Derivative.KindKey)), ("carbonyls_condensed", nameof(Derivative.CarbonylsCondensed)),
            ("form", nameof(Derivative.Form)), ("low_celsius", nameof(Derivative.LowCelsius)),
            ("high_celsius", nameof(Derivative.HighCelsius)), ("is_unusual", nameof(Derivative.IsUnusual)),
            ("decomposes", nameof(Derivative.Decomposes)), ("colour_key", nameof(Derivative.ColourKey)),
            ("source_key", nameof(Derivative.SourceKey)),
            ("locator", nameof(Derivative.Locator)), ("as_printed", nameof(Derivative.AsPrinted)),
            ("corrected", nameof(Derivative.Corrected)), ("verification", nameof(Derivative.Verification)),
            ("note", nameof(Derivative.Note)),
        ],
        key: [nameof(Derivative.Key)],
        optional: [nameof(Derivative.IsUnusual)],
        rules: DerivativeRules.Check);

    /// <summary>The questions spot tests ask.</summary>
    public static RecordKind<SpotTestQuestion> SpotTestQuestions { get; } = new(
        "spot-test-questions",
        columns:
        [
            ("question_key", nameof(SpotTestQuestion.Key)), ("text", nameof(SpotTestQuestion.Text)),
            ("contrary_rate", nameof(SpotTestQuestion.ContraryRate)),
            ("is_assumed", nameof(SpotTestQuestion.IsAssumed)), ("source_key", nameof(SpotTestQuestion.SourceKey)),
        ],
        key: [nameof(SpotTestQuestion.Key)],
        rules: SpotTestRules.Check);

    /// <summary>The spot tests.</summary>
    public static RecordKind<SpotTest> SpotTests { get; } = new(
        "spot-tests",
        columns:
        [
            ("test_key", nameof(SpotTest.Key)), ("name", nameof(SpotTest.Name)),
            ("synonyms", nameof(SpotTest.Synonyms)), ("question_key", nameof(SpotTest.QuestionKey)),
            ("positive_looks_like", nameof(SpotTest.PositiveLooksLike)),
            ("read_within_minutes", nameof(SpotTest.ReadWithinMinutes)), ("minutes", nameof(SpotTest.Minutes)),
            ("hazard", nameof(SpotTest.Hazard)), ("cautions", nameof(SpotTest.Cautions)),
            ("positive_rate_if_yes", nameof(SpotTest.PositiveRateIfYes)),
            ("positive_rate_if_no", nameof(SpotTest.PositiveRateIfNo)),
            ("known_exceptions", nameof(SpotTest.KnownExceptions)), ("source_key", nameof(SpotTest.SourceKey)),
        ],
        key: [nameof(SpotTest.Key)],
        rules: SpotTestRules.Check);

    /// <summary>How classes of parents answer the tests.</summary>
    public static RecordKind<SpotTestResponse> SpotTestResponses { get; } = new(
        "spot-test-responses",
        columns:
        [
            ("test_key", nameof(SpotTestResponse.TestKey)), ("order", nameof(SpotTestResponse.Order)),
            ("applies_to", nameof(SpotTestResponse.AppliesTo)),
            ("positive_rate", nameof(SpotTestResponse.PositiveRate)),
            ("answers_yes", nameof(SpotTestResponse.AnswersYes)), ("is_assumed", nameof(SpotTestResponse.IsAssumed)),
            ("source_key", nameof(SpotTestResponse.SourceKey)), ("note", nameof(SpotTestResponse.Note)),
        ],
        key: [nameof(SpotTestResponse.TestKey), nameof(SpotTestResponse.Order)],
        rules: SpotTestRules.Check);

    /// <summary>The colours expected of classes of parents.</summary>
    public static RecordKind<ColourExpectation> ColourExpectations { get; } = new(
        "colour-expectations",
        columns:
        [
            ("kind_key", nameof(ColourExpectation.KindKey)), ("order", nameof(ColourExpectation.Order)),
            ("structure_class", nameof(ColourExpectation.StructureClass)),
            ("weights", nameof(ColourExpectation.Weights)), ("source_key", nameof(ColourExpectation.SourceKey)),
            ("is_assumed", nameof(ColourExpectation.IsAssumed)), ("note", nameof(ColourExpectation.Note)),
        ],
        key: [nameof(ColourExpectation.KindKey), nameof(ColourExpectation.Order)],
        rules: ColourRules.Check);

    /// <summary>The melting-point standards.</summary>
    public static RecordKind<MeltingPointStandard> MeltingPointStandards { get; } = new(
        "melting-point-standards",
        columns:
        [
            ("standard_key", nameof(MeltingPointStandard.Key)), ("name", nameof(MeltingPointStandard.Name)),
            ("cas_number", nameof(MeltingPointStandard.CasNumber)),
            ("clear_point_celsius", nameof(MeltingPointStandard.ClearPointCelsius)),
            ("source_key", nameof(MeltingPointStandard.SourceKey)),
            ("verification", nameof(MeltingPointStandard.Verification)), ("note", nameof(MeltingPointStandard.Note)),
        ],
        key: [nameof(MeltingPointStandard.Key)],
        rules: ConstantRules.Check);

    /// <summary>All of them. Shape: in the order in which one may be entered after another.</summary>
    public static IReadOnlyList<RecordKind> All { get; } =
    [
        Sources, Parents, ParentConstants, DerivativeKinds, Colours, Derivatives, SpotTestQuestions, SpotTests,
        SpotTestResponses, ColourExpectations, MeltingPointStandards,
    ];
}
