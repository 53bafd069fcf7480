using System.Text.Json;
using Derivid.Core.Curation;
using static Derivid.Core.Tests.Curation.CuratedTable;

namespace Derivid.Core.Tests.Curation;

/// <summary>What a cell of each kind of column may hold, and what is written into it.</summary>
public sealed class RecordColumnTests
{
    [Theory]
    [InlineData("name", "acetone")]
    [InlineData("molar_mass", "58.08")]
    [InlineData("molar_mass", "-0.5")]
    [InlineData("kind", "ketone")]
    [InlineData("synonyms", "a;b c")]
    [InlineData("synonyms", "")]
    [InlineData("commonness", "everyday")]
    [InlineData("commonness", "")]
    [InlineData("note", "")]
    public void CellOfAParentIsReadAndWrittenBack(string column, string cell) =>
        Assert.Equal(cell, Rewritten(RecordKinds.Parents, Sound.Parents[0], column, cell));

    [Theory]
    [InlineData("colour_informs", "yes")]
    [InlineData("colour_informs", "no")]
    [InlineData("closes_to", "isoxazole")]
    [InlineData("closes_to", "")]
    [InlineData("test_key", "")]
    [InlineData("reagents_per_carbonyl", "2")]
    [InlineData("reagent_melting_celsius", "")]
    public void CellOfAKindIsReadAndWrittenBack(string column, string cell) =>
        Assert.Equal(cell, Rewritten(RecordKinds.DerivativeKinds, Sound.Kinds[0], column, cell));

    [Theory]
    [InlineData("corrected", "yes", "yes")]
    [InlineData("corrected", "unstated", "unstated")]
    [InlineData("is_unusual", "yes", "yes")]
    [InlineData("is_unusual", "", "no")]
    [InlineData("verification", "cross-checked", "cross-checked")]
    public void CellOfADerivativeIsReadAndWrittenBack(string column, string cell, string written) =>
        Assert.Equal(written, Rewritten(RecordKinds.Derivatives, Sound.Derivatives[0], column, cell));

    [Fact]
    public void WeightsAreNumbersPartedBySemicolons() =>
        Assert.Equal(
            "0.25;0.75", Rewritten(RecordKinds.ColourExpectations, Sound.ColourExpectations[0], "weights", "0.25;0.75"));

    [Theory]
    [InlineData("name", "", "a text")]
    [InlineData("name", " a", "no spaces at either end")]
    [InlineData("molar_mass", "", "a decimal number")]
    [InlineData("molar_mass", "1e3", "no exponent")]
    [InlineData("molar_mass", "1,5", "a decimal number with a point")]
    [InlineData("molar_mass", "NaN", "a decimal number")]
    [InlineData("molar_mass", "∞", "a decimal number")]
    [InlineData("kind", "alcohol", "aldehyde, ketone, both, masked")]
    [InlineData("kind", "", "aldehyde, ketone, both, masked")]
    [InlineData("commonness", "common", "everyday, usual, rare")]
    [InlineData("synonyms", "a;;b", "none empty")]
    [InlineData("synonyms", "a; b", "no spaces around them")]
    public void CellOfAParentThatCannotBeIsRefusedWithWhatIsAllowed(string column, string cell, string allowed) =>
        Refused(RecordKinds.Parents, column, cell, allowed);

    [Theory]
    [InlineData("reagents_per_carbonyl", "", "a whole number")]
    [InlineData("reagents_per_carbonyl", "1.5", "a whole number")]
    [InlineData("colour_informs", "", "yes, no")]
    [InlineData("colour_informs", "Yes", "yes, no")]
    [InlineData("closes_to", "ring", "pyrazole, isoxazole")]
    public void CellOfAKindThatCannotBeIsRefused(string column, string cell, string allowed) =>
        Refused(RecordKinds.DerivativeKinds, column, cell, allowed);

    [Theory]
    [InlineData("corrected", "maybe", "yes, no, unstated")]
    [InlineData("corrected", "", "yes, no, unstated")]
    [InlineData("is_unusual", "maybe", "yes, no")]
    public void CellOfADerivativeThatCannotBeIsRefused(string column, string cell, string allowed) =>
        Refused(RecordKinds.Derivatives, column, cell, allowed);

    [Theory]
    [InlineData("0.2;x", "a decimal number")]
    [InlineData("0.2;", "none empty")]
    public void WeightThatIsNoNumberIsRefused(string cell, string allowed) =>
        Refused(RecordKinds.ColourExpectations, "weights", cell, allowed);

    [Fact]
    public void ValueOutsideTheVocabularyHasNoWord() =>
        Assert.Throws<InvalidOperationException>(() => Column(RecordKinds.Parents, "kind").Word("alcohol"));

    [Theory]
    [InlineData(0.1, "0.1")]
    [InlineData(1e-7, "0.0000001")]
    [InlineData(1.2345678901234567e-8, "0.000000012345678901234567")]
    [InlineData(1e9, "1000000000")]
    [InlineData(-2.5e-6, "-0.0000025")]
    [InlineData(1e15, "1000000000000000")]
    [InlineData(5e20, "500000000000000000000")]
    public void NumbersAreWrittenWithoutAnExponentToTheLastDigit(double number, string text)
    {
        Assert.Equal(text, RecordColumn.Text(number));
        Assert.Equal(number, double.Parse(RecordColumn.Text(number), System.Globalization.CultureInfo.InvariantCulture));
    }

    [Fact]
    public void HeadingsAreTheWordsOfTheJsonInSnakeCase() =>
        Assert.All(RecordKinds.All.SelectMany(kind => kind.Columns), column => Assert.Equal(
            JsonNamingPolicy.SnakeCaseLower.ConvertName(JsonNamingPolicy.CamelCase.ConvertName(column.Field)), column.Name));

    [Fact]
    public void RequiredColumnsAreThoseThatCannotBeMissing()
    {
        IEnumerable<string> Optional(RecordKind kind) => kind.Columns.Where(column => !column.IsRequired).Select(column => column.Name);

        Assert.Equal(["cas_number", "hazards", "commonness", "commonness_basis", "note"], Optional(RecordKinds.Parents));
        Assert.Equal(["closes_to", "test_key", "reagent_melting_celsius", "can_explode"], Optional(RecordKinds.DerivativeKinds));
        Assert.Equal(
            [
                "form", "is_unusual", "colour_key", "locator", "as_printed", "corrected", "measured_by", "instrument", "determinations",
                "mean_celsius", "spread_celsius", "note",
            ],
            Optional(RecordKinds.Derivatives));
    }

    [Fact]
    public void EmptyListsAndFlagsNotSetHoldNothing()
    {
        Assert.Null(Column(RecordKinds.Parents, "synonyms").HeldBy(Sound.Parents[0]));
        Assert.NotNull(Column(RecordKinds.Parents, "synonyms").HeldBy(Sound.Parents.Single(row => row.Key == "propanone")));
        Assert.Null(Column(RecordKinds.Derivatives, "is_unusual").HeldBy(Sound.Derivatives[0]));
        Assert.Equal(true, Column(RecordKinds.Derivatives, "is_unusual").HeldBy(Sound.Derivatives[0] with { IsUnusual = true }));
        Assert.Equal(false, Column(RecordKinds.Derivatives, "decomposes").HeldBy(Sound.Derivatives[0]));
        Assert.Null(Column(RecordKinds.ColourExpectations, "weights").HeldBy(Sound.ColourExpectations[0] with { Weights = [] }));
    }

    [Fact]
    public void RowIsMadeFromItsCells() =>
        Assert.All(Sound.Lists(), list => Assert.All(list.Rows, row => Assert.Empty(list.Kind.ChangedFields(
            row, list.Kind.Make([.. list.Kind.Columns.Select(column => column.Read(column.Write(row)).Value)])))));

    [Fact]
    public void RowsAreOrderedByKeyColoursByRankAndNumbersByTheirSize()
    {
        var mixed = Sound
            .With(RecordKinds.Colours, Sound.Colours.Select(row => row with { Rank = 1 - row.Rank }))
            .With(RecordKinds.Parents, Sound.Parents.Reverse())
            .Add(RecordKinds.SpotTestResponses, Response("tollens", 10, "any", 0.1, false), Response("tollens", 9, "any", 0.1, false))
            .Ordered();

        Assert.Equal(["yellow", "white"], mixed.Colours.Select(row => row.Key));
        Assert.Equal(Sound.Parents.Select(row => row.Key), mixed.Parents.Select(row => row.Key));
        Assert.Equal([1, 2, 1, 2, 9, 10], mixed.Responses.Select(row => row.Order));
    }

    [Fact]
    public void KindIsMadeOfColumnsThatCellsCanHoldAndItsKeyAndOrderOfThese()
    {
        Assert.Throws<NotSupportedException>(() => new RecordKind<Weighing>("weighings", ["Key", "Grams"], ["Key"]));
        Assert.Throws<InvalidOperationException>(() => new RecordKind<Bottle>("bottles", ["Key"], ["Name"]));
        Assert.Throws<InvalidOperationException>(() => new RecordKind<Bottle>("bottles", ["Key"], ["Key"], order: ["Name"]));
        Assert.Equal("b", new RecordKind<Bottle>("bottles", ["Key"], ["Key"]).KeyOf(new Bottle("b")));
    }

    [Fact]
    public void WhatPeopleAreToldOfAColumnStandsInItsLine()
    {
        Assert.Equal("melts from, °C", Column(RecordKinds.Derivatives, "low_celsius").Label);
        Assert.Equal("known exceptions", Column(RecordKinds.SpotTests, "known_exceptions").Label);
        Assert.Equal("compound", Column(RecordKinds.Derivatives, "parent_key").Label);
        Assert.Equal(["citation", "name", "text"], new RecordKind[] { RecordKinds.Sources, RecordKinds.Parents, RecordKinds.SpotTestQuestions }
            .Select(kind => kind.Title.Name));
        Assert.All(RecordKinds.All.SelectMany(kind => kind.Columns), column =>
        {
            Assert.Equal(column.Field.EndsWith("Key", StringComparison.Ordinal) && column.Field != "Key", column.Names is not null);
            Assert.True(
                column.Usual is null || column.Vocabulary.Contains(column.Usual)
                || (column.Content == CellContent.WholeNumber && column.Usual is int), column.Field);
        });
    }

    private static string Rewritten(RecordKind kind, object row, string column, string cell)
    {
        var values = kind.Columns.Select(each => each.Name == column ? each.Read(cell).Value : each.Of(row)).ToArray();
        Assert.Null(Column(kind, column).Read(cell).Allowed);
        return Column(kind, column).Write(kind.Make(values));
    }

    private static void Refused(RecordKind kind, string column, string cell, string allowed)
    {
        var (value, said) = Column(kind, column).Read(cell);
        Assert.Null(value);
        Assert.Contains(allowed, said, StringComparison.Ordinal);
    }

    private static RecordColumn Column(RecordKind kind, string name) => kind.Columns.Single(column => column.Name == name);

    private sealed record Bottle(string Key);

    private sealed record Weighing(string Key, decimal Grams);
}
