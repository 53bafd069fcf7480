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
        ("question_key", question => question.Key),
        ("text", question => question.Text),
        ("contrary_rate", question => CsvCell.Of(question.ContraryRate)),
        ("is_assumed", question => CsvCell.Of(question.IsAssumed)),
        ("source_key", question => question.SourceKey));

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
        ("test_key", test => test.Key),
        ("name", test => test.Name),
        ("synonyms", test => CsvCell.Of(test.Synonyms)),
        ("question_key", test => test.QuestionKey),
        ("positive_looks_like", test => test.PositiveLooksLike),
        ("read_within_minutes", test => CsvCell.Of(test.ReadWithinMinutes)),
        ("minutes", test => CsvCell.Of(test.Minutes)),
        ("hazard", test => Keyword.Of(test.Hazard)),
        ("cautions", test => test.Cautions),
        ("positive_rate_if_yes", test => CsvCell.Of(test.PositiveRateIfYes)),
        ("positive_rate_if_no", test => CsvCell.Of(test.PositiveRateIfNo)),
        ("known_exceptions", test => test.KnownExceptions ?? ""),
        ("source_key", test => test.SourceKey));

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
        ("test_key", response => response.TestKey),
        ("order", response => CsvCell.Of(response.Order)),
        ("applies_to", response => response.AppliesTo),
        ("positive_rate", response => CsvCell.Of(response.PositiveRate)),
        ("answers_yes", response => CsvCell.Of(response.AnswersYes)),
        ("is_assumed", response => CsvCell.Of(response.IsAssumed)),
        ("source_key", response => response.SourceKey),
        ("note", response => response.Note ?? ""));

    /// <summary>colours.csv.</summary>
    public static CsvTable<Colour> Colours { get; } = new(
        "colours.csv",
        row => new Colour(row.Text("colour_key"), row.Text("name"), row.WholeNumber("rank"), row.Texts("synonyms")),
        ("colour_key", colour => colour.Key),
        ("name", colour => colour.Name),
        ("rank", colour => CsvCell.Of(colour.Rank)),
        ("synonyms", colour => CsvCell.Of(colour.Synonyms)));

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
        ("kind_key", expectation => expectation.KindKey),
        ("order", expectation => CsvCell.Of(expectation.Order)),
        ("structure_class", expectation => expectation.StructureClass),
        ("weights", expectation => CsvCell.Of(expectation.Weights)),
        ("source_key", expectation => expectation.SourceKey),
        ("is_assumed", expectation => CsvCell.Of(expectation.IsAssumed)),
        ("note", expectation => expectation.Note ?? ""));

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
        ("standard_key", standard => standard.Key),
        ("name", standard => standard.Name),
        ("cas_number", standard => standard.CasNumber),
        ("clear_point_celsius", standard => CsvCell.Of(standard.ClearPointCelsius)),
        ("source_key", standard => standard.SourceKey),
        ("verification", standard => Keyword.Of(standard.Verification)),
        ("note", standard => standard.Note ?? ""));
}
