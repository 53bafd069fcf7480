using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;

namespace Derivid.Store.Seeding;

/// <summary>The table files of spot tests, colours and melting-point standards.</summary>
public static class ObservationTables
{
    /// <summary>spot-test-questions.csv.</summary>
    public static CsvTable<SpotTestQuestion> Questions { get; } = new(
        "spot-test-questions.csv",
        row => new SpotTestQuestion(
            row.Text("question_key"),
            row.Text("text"),
            row.Number("contrary_rate"),
            row.YesNo("is_assumed"),
            row.Text("source_key")),
        ("question_key", nameof(SpotTestQuestion.Key), question => question.Key),
        ("text", nameof(SpotTestQuestion.Text), question => question.Text),
        ("contrary_rate", nameof(SpotTestQuestion.ContraryRate), question => CsvCell.Of(question.ContraryRate)),
        ("is_assumed", nameof(SpotTestQuestion.IsAssumed), question => CsvCell.Of(question.IsAssumed)),
        ("source_key", nameof(SpotTestQuestion.SourceKey), question => question.SourceKey));

    /// <summary>spot-tests.csv.</summary>
    public static CsvTable<SpotTest> SpotTests { get; } = new(
        "spot-tests.csv",
        row => new SpotTest
        {
            Key = row.Text("test_key"),
            Name = row.Text("name"),
            Synonyms = row.Texts("synonyms"),
            QuestionKey = row.Text("question_key"),
            PositiveLooksLike = row.Text("positive_looks_like"),
            ReadWithinMinutes = row.Number("read_within_minutes"),
            Minutes = row.Number("minutes"),
            Hazard = row.Keyword<Hazard>("hazard"),
            Cautions = row.Text("cautions"),
            PositiveRateIfYes = row.Number("positive_rate_if_yes"),
            PositiveRateIfNo = row.Number("positive_rate_if_no"),
            KnownExceptions = row.OptionalText("known_exceptions"),
            SourceKey = row.Text("source_key"),
        },
        ("test_key", nameof(SpotTest.Key), test => test.Key),
        ("name", nameof(SpotTest.Name), test => test.Name),
        ("synonyms", nameof(SpotTest.Synonyms), test => CsvCell.Of(test.Synonyms)),
        ("question_key", nameof(SpotTest.QuestionKey), test => test.QuestionKey),
        ("positive_looks_like", nameof(SpotTest.PositiveLooksLike), test => test.PositiveLooksLike),
        ("read_within_minutes", nameof(SpotTest.ReadWithinMinutes), test => CsvCell.Of(test.ReadWithinMinutes)),
        ("minutes", nameof(SpotTest.Minutes), test => CsvCell.Of(test.Minutes)),
        ("hazard", nameof(SpotTest.Hazard), test => Keyword.Of(test.Hazard)),
        ("cautions", nameof(SpotTest.Cautions), test => test.Cautions),
        ("positive_rate_if_yes", nameof(SpotTest.PositiveRateIfYes), test => CsvCell.Of(test.PositiveRateIfYes)),
        ("positive_rate_if_no", nameof(SpotTest.PositiveRateIfNo), test => CsvCell.Of(test.PositiveRateIfNo)),
        ("known_exceptions", nameof(SpotTest.KnownExceptions), test => test.KnownExceptions ?? ""),
        ("source_key", nameof(SpotTest.SourceKey), test => test.SourceKey));

    /// <summary>spot-test-responses.csv.</summary>
    public static CsvTable<SpotTestResponse> Responses { get; } = new(
        "spot-test-responses.csv",
        row => new SpotTestResponse(
            row.Text("test_key"),
            row.WholeNumber("order"),
            row.Text("applies_to"),
            row.Number("positive_rate"),
            row.YesNo("answers_yes"),
            row.YesNo("is_assumed"),
            row.Text("source_key"),
            row.OptionalText("note")),
        ("test_key", nameof(SpotTestResponse.TestKey), response => response.TestKey),
        ("order", nameof(SpotTestResponse.Order), response => CsvCell.Of(response.Order)),
        ("applies_to", nameof(SpotTestResponse.AppliesTo), response => response.AppliesTo),
        ("positive_rate", nameof(SpotTestResponse.PositiveRate), response => CsvCell.Of(response.PositiveRate)),
        ("answers_yes", nameof(SpotTestResponse.AnswersYes), response => CsvCell.Of(response.AnswersYes)),
        ("is_assumed", nameof(SpotTestResponse.IsAssumed), response => CsvCell.Of(response.IsAssumed)),
        ("source_key", nameof(SpotTestResponse.SourceKey), response => response.SourceKey),
        ("note", nameof(SpotTestResponse.Note), response => response.Note ?? ""));

    /// <summary>colours.csv.</summary>
    public static CsvTable<Colour> Colours { get; } = new(
        "colours.csv",
        row => new Colour(row.Text("colour_key"), row.Text("name"), row.WholeNumber("rank"), row.Texts("synonyms")),
        ("colour_key", nameof(Colour.Key), colour => colour.Key),
        ("name", nameof(Colour.Name), colour => colour.Name),
        ("rank", nameof(Colour.Rank), colour => CsvCell.Of(colour.Rank)),
        ("synonyms", nameof(Colour.Synonyms), colour => CsvCell.Of(colour.Synonyms)));

    /// <summary>colour-expectations.csv.</summary>
    public static CsvTable<ColourExpectation> ColourExpectations { get; } = new(
        "colour-expectations.csv",
        row => new ColourExpectation(
            row.Text("kind_key"),
            row.WholeNumber("order"),
            row.Text("structure_class"),
            row.Numbers("weights"),
            row.Text("source_key"),
            row.YesNo("is_assumed"),
            row.OptionalText("note")),
        ("kind_key", nameof(ColourExpectation.KindKey), expectation => expectation.KindKey),
        ("order", nameof(ColourExpectation.Order), expectation => CsvCell.Of(expectation.Order)),
        ("structure_class", nameof(ColourExpectation.StructureClass), expectation => expectation.StructureClass),
        ("weights", nameof(ColourExpectation.Weights), expectation => CsvCell.Of(expectation.Weights)),
        ("source_key", nameof(ColourExpectation.SourceKey), expectation => expectation.SourceKey),
        ("is_assumed", nameof(ColourExpectation.IsAssumed), expectation => CsvCell.Of(expectation.IsAssumed)),
        ("note", nameof(ColourExpectation.Note), expectation => expectation.Note ?? ""));

    /// <summary>melting-point-standards.csv.</summary>
    public static CsvTable<MeltingPointStandard> Standards { get; } = new(
        "melting-point-standards.csv",
        row => new MeltingPointStandard(
            row.Text("standard_key"),
            row.Text("name"),
            row.Text("cas_number"),
            row.Number("clear_point_celsius"),
            row.Text("source_key"),
            row.Keyword<Verification>("verification"),
            row.OptionalText("note")),
        ("standard_key", nameof(MeltingPointStandard.Key), standard => standard.Key),
        ("name", nameof(MeltingPointStandard.Name), standard => standard.Name),
        ("cas_number", nameof(MeltingPointStandard.CasNumber), standard => standard.CasNumber),
        ("clear_point_celsius", nameof(MeltingPointStandard.ClearPointCelsius), standard => CsvCell.Of(standard.ClearPointCelsius)),
        ("source_key", nameof(MeltingPointStandard.SourceKey), standard => standard.SourceKey),
        ("verification", nameof(MeltingPointStandard.Verification), standard => Keyword.Of(standard.Verification)),
        ("note", nameof(MeltingPointStandard.Note), standard => standard.Note ?? ""));
}
