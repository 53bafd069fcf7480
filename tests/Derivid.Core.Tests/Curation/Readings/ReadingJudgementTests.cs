using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Curation.Readings;
using static Derivid.Core.Tests.Curation.CuratedTable;

namespace Derivid.Core.Tests.Curation.Readings;

/// <summary>What follows from values typed from a book. Book and ranges are invented.</summary>
public sealed class ReadingJudgementTests
{
    private const string Ours = "propanone-oxime-1";

    private static readonly Source Book = new("book", "A made-up book", null, SourceGrade.Compiled, "book", SourceReading.PageRead);

    // One recalled value of a line of its own.
    private static ReferenceTable Table { get; } = Sound
        .Add(RecordKinds.Sources, Book)
        .Add(RecordKinds.Derivatives, Recalled(59))
        .Ordered();

    [Theory]
    [InlineData("59", ReadingVerdict.Agrees)]
    [InlineData("59-59.05", ReadingVerdict.Agrees)]
    [InlineData("59-59.06", ReadingVerdict.Differs)]
    [InlineData("58", ReadingVerdict.Differs)]
    [InlineData("59 dec.", ReadingVerdict.Differs)]
    [InlineData("-", ReadingVerdict.NotPrinted)]
    public void VerdictFollowsFromBothEndsAndDecomposition(string typed, ReadingVerdict verdict) =>
        Assert.Equal(verdict, Judged(Table, typed).Lines.Single().Verdict);

    [Fact]
    public void AgreementMakesTheRecalledRecordOneOfTheBook()
    {
        var change = Assert.Single(Judged(Table, "59 yellow").Changes);

        Assert.Equal((Ours, ChangeType.Changed), (change.Key, change.Type));
        var after = (Derivative)change.After!;
        Assert.Equal(("book", "p. 12", "59", Verification.Read, "yellow"), (after.SourceKey, after.Locator, after.AsPrinted, after.Verification, after.ColourKey));
        Assert.Equal((Derivative)change.Before! with { SourceKey = "book", Locator = "p. 12", Verification = Verification.Read, ColourKey = "yellow" }, after);
    }

    [Fact]
    public void ColourThatTheBookWasNotReadForIsSaidToBeFromElsewhere()
    {
        var table = Table.Change<Derivative>(RecordKinds.Derivatives, Ours, row => row with { ColourKey = "white", Note = "Ours" });
        var after = (Derivative)Judged(table, "59").Changes.Single().After!;

        Assert.Equal(("white", "Ours. The colour, white, is not from this source."), (after.ColourKey, after.Note));
    }

    [Fact]
    public void DifferenceStandsBesideOursWithANoteOnBoth()
    {
        var changes = Judged(Table, "65-66").Changes;

        Assert.Equal([(Ours, ChangeType.Changed), ("propanone-oxime-2", ChangeType.Added)], changes.Select(change => (change.Key, change.Type)));
        var (ours, theirs) = ((Derivative)changes[0].After!, (Derivative)changes[1].After!);
        Assert.Equal((59, "handbook", "book, p. 12, prints 65-66, see propanone-oxime-2."), (ours.LowCelsius, ours.SourceKey, ours.Note));
        Assert.Equal((65, 66, "book", "p. 12", Verification.Read), (theirs.LowCelsius, theirs.HighCelsius, theirs.SourceKey, theirs.Locator, theirs.Verification));
        Assert.Equal("Differs from propanone-oxime-1 (59, handbook).", theirs.Note);
    }

    [Theory]
    [InlineData("59")]
    [InlineData("61")]
    [InlineData("66-68 dec.")]
    public void TableThatFollowsBreaksNoRuleAndItsStatesAreAsTheTableShows(string typed)
    {
        var after = TableDifferences.Apply(Table, Judged(Table, typed).Changes, 2);
        var known = TableValidation.Of(Table);

        Assert.DoesNotContain(known, finding => finding.Severity == FindingSeverity.Error);
        Assert.DoesNotContain(
            TableValidation.Of(after).Except(known), finding => finding.Severity == FindingSeverity.Error || finding.Field == nameof(Compounds.Derivative.Verification));
    }

    [Fact]
    public void ValueWithinThreeDegreesOfAnotherFamilyConfirmsBoth()
    {
        var after = TableDifferences.Apply(Table, Judged(Table, "61").Changes, 2);

        Assert.Equal(
            [(Ours, Verification.CrossChecked), ("propanone-oxime-2", Verification.CrossChecked)],
            after.Derivatives.Where(row => row.KindKey == "oxime" && row.ParentKey == "propanone").Select(row => (row.Key, row.Verification)));
    }

    [Fact]
    public void AgreementWithWhatAnotherSourcePrintsBecomesARecordOfItsOwn()
    {
        var table = Table.Change<Derivative>(RecordKinds.Derivatives, Ours, row => row with { SourceKey = "journal", Verification = Verification.Read });
        var judged = Judged(table, "59");

        Assert.Equal(ReadingVerdict.Agrees, judged.Lines.Single().Verdict);
        Assert.Equal([Ours, "propanone-oxime-2"], judged.Changes.Select(change => change.Key));
        Assert.All(judged.Changes, change => Assert.Equal(Verification.CrossChecked, ((Derivative)change.After!).Verification));
    }

    [Fact]
    public void RecalledRecordIsPreferredWhereSeveralAgree()
    {
        var table = Table.Add(RecordKinds.Derivatives, Recalled(59) with { Key = "a-first", SourceKey = "journal", Verification = Verification.Read });

        Assert.Equal("book", ((Derivative)Judged(table, "59").Changes.Single(change => change.Key == Ours).After!).SourceKey);
    }

    [Fact]
    public void FormsAreLinesOfTheirOwn()
    {
        var table = Table.Add(RecordKinds.Derivatives, Recalled(75) with { Key = "propanone-oxime-7", Form = "syn" });
        var judged = Judged(table, "75");

        Assert.Equal(ReadingVerdict.Differs, judged.Lines.Single().Verdict);
        Assert.Null(((Derivative)judged.Changes.Single(change => change.Type == ChangeType.Added).After!).Form);
    }

    [Fact]
    public void LineTypedAgainIntoTheDraftBeginsWithWhatTheVersionHas()
    {
        var wrong = TableDifferences.Apply(Table, Judged(Table, "65").Changes, 1);
        var right = TableDifferences.Apply(wrong, Judged(Table, "59", draft: wrong).Changes, 1);
        var again = TableDifferences.Apply(right, Judged(Table, "65", draft: right).Changes, 1);

        Assert.Equal(Rows(TableDifferences.Apply(Table, Judged(Table, "59").Changes, 1)), Rows(right));
        Assert.Equal(Rows(wrong), Rows(again));

        static IEnumerable<Derivative> Rows(ReferenceTable table) => table.Derivatives;
    }

    [Fact]
    public void LineWhoseRecordTheDraftLeavesOutGetsTheBooksAlone()
    {
        var judged = Judged(Table, "59", draft: Table.Remove(RecordKinds.Derivatives, Ours));
        var change = Assert.Single(judged.Changes);

        Assert.Equal(("propanone-oxime-2", ChangeType.Added, null), (change.Key, change.Type, ((Derivative)change.After!).Note));
    }

    [Fact]
    public void WhatTheTableHasFromTheBookIsNotRecordedTwice()
    {
        var table = Table.Change<Derivative>(RecordKinds.Derivatives, Ours, row => row with { SourceKey = "book", Verification = Verification.Read });

        Assert.Equal("p. 12", ((Derivative)Judged(table, "59").Changes.Single().After!).Locator);
        var mended = (Derivative)Judged(table, "58").Changes.Single().After!;
        Assert.Equal((Ours, 58, "Read anew by the verification desk; 59 before."), (mended.Key, mended.LowCelsius, mended.Note));
    }

    [Fact]
    public void WhatIsInUseTakesTwoPeopleWhoTypedTheSame()
    {
        Assert.Equal(ReadingVerdict.AwaitsSecondReader, Verdict("59"));
        Assert.Equal(ReadingVerdict.ReadersDiffer, Verdict("59", "60"));
        Assert.Equal(ReadingVerdict.Agrees, Verdict("59", "59"));
        Assert.Equal(ReadingVerdict.Differs, Verdict("60", "60"));
        Assert.Equal(ReadingVerdict.Differs, Verdict("60", "59", "60"));
        Assert.Equal(ReadingVerdict.NotPrinted, Verdict("-", "-"));
        Assert.Equal(ReadingVerdict.ReadersDiffer, Verdict("-", "59"));
        Assert.Empty(Judged(Table, "59", takesTwo: true).Changes);

        static ReadingVerdict Verdict(string typed, params string[] others) =>
            Judged(Table, typed, takesTwo: true, others: others).Lines.Single().Verdict;
    }

    private static ReadingJudgement Judged(
        ReferenceTable table, string typed, ReferenceTable? draft = null, bool takesTwo = false, params string[] others)
    {
        var line = table.Derivatives.Single(row => row.Key == Ours);
        var reading = new LineReading(line, Value(typed), "p. 12", [.. others.Select(Value)], takesTwo);
        return ReadingJudgement.Of(table, draft ?? table, Book, [reading]);
    }

    private static PrintedValue Value(string typed) => PrintedValue.Read(typed, Table.Colours).Value!;

    private static Derivative Recalled(double celsius) => Derivative("propanone", "oxime", celsius, "handbook", Verification.Recalled) with { Key = Ours };
}
