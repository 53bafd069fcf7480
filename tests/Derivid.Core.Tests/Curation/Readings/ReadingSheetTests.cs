using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Curation.Readings;
using static Derivid.Core.Tests.Curation.CuratedTable;

namespace Derivid.Core.Tests.Curation.Readings;

/// <summary>Which lines a reader is given, and in what order. Books and readings are invented.</summary>
public sealed class ReadingSheetTests
{
    private static readonly Source Journal = Sound.Sources.Single(source => source.Key == "journal");
    private static readonly Source Other = Sound.Sources.Single(source => source.Key == "other-journal");

    [Theory]
    [InlineData(SheetOrder.Name, "benzaldehyde pentane-2-4-dione propanone trioxane")]
    [InlineData(SheetOrder.MolarMass, "propanone trioxane pentane-2-4-dione benzaldehyde")]
    [InlineData(SheetOrder.BoilingPoint, "propanone benzaldehyde pentane-2-4-dione trioxane")]
    [InlineData(SheetOrder.Locator, "trioxane propanone benzaldehyde pentane-2-4-dione")]
    public void LinesStandInTheOrderOfTheBook(SheetOrder order, string parents)
    {
        var table = Sound.Change<Derivative>(RecordKinds.Derivatives, "trioxane-semicarbazone", row => row with { Locator = "p. 9" })
            .Change<Derivative>(RecordKinds.Derivatives, "propanone-semicarbazone", row => row with { Locator = "p. 12" });

        Assert.Equal(parents, string.Join(' ', Lines(table, Journal, order: order).Select(line => line.Parent.Key).Distinct()));
    }

    [Fact]
    public void KindsStandInTheOrderOfTheBooksColumns()
    {
        var lines = Lines(Sound, Other, kinds: ["semicarbazone", "dimedone-derivative"]).Where(line => line.Parent.Key == "benzaldehyde");

        Assert.Equal(["semicarbazone", "dimedone-derivative"], lines.Select(line => line.Kind.Key));
    }

    [Fact]
    public void RecordsOfOneLineAreTypedOnce()
    {
        var table = Sound.Add(RecordKinds.Derivatives, Derivative("propanone", "semicarbazone", 190, "handbook", Verification.Recalled));
        var line = Assert.Single(Lines(table, Other), line => line.Parent.Key == "propanone");

        Assert.Equal(("propanone-semicarbazone-handbook", true), (line.Record.Key, line.IsRecalled));
        Assert.True(line.IsIn(SheetScope.Recalled));
        Assert.Equal(1, ReadingSheet.RecalledLines(table));
        Assert.Equal(0, ReadingSheet.RecalledLines(Sound));
    }

    [Fact]
    public void WhatTheTableCitesTheSourceForIsDone()
    {
        Assert.All(Lines(Sound, Journal), line => Assert.Equal((false, true), (line.IsIn(SheetScope.Unread), line.IsIn(SheetScope.All))));
        Assert.All(Lines(Sound, Other), line => Assert.Equal((true, false), (line.IsIn(SheetScope.Unread), line.IsIn(SheetScope.Recalled))));
    }

    [Fact]
    public void LineIsDoneForAllOnceItIsSettledAndForItsReaderBefore()
    {
        Assert.False(IsDone("ann"));
        Assert.True(IsDone("ann", ("ben", ReadingVerdict.Agrees)));
        Assert.True(IsDone("ann", ("ben", ReadingVerdict.NotPrinted)));
        Assert.False(IsDone("ann", ("ben", ReadingVerdict.AwaitsSecondReader)));
        Assert.True(IsDone("ben", ("ben", ReadingVerdict.AwaitsSecondReader)));
        Assert.False(IsDone("cat", ("ben", ReadingVerdict.AwaitsSecondReader), ("ann", ReadingVerdict.ReadersDiffer)));
        Assert.True(IsDone("ben", ("ben", ReadingVerdict.AwaitsSecondReader), ("ann", ReadingVerdict.ReadersDiffer)));

        static bool IsDone(string reader, params (string Reader, ReadingVerdict Verdict)[] readings) =>
            LineOf(reader, readings).IsDone;
    }

    [Fact]
    public void ThirdReaderIsToldThatTwoDiffer()
    {
        Assert.True(LineOf("cat", ("ben", ReadingVerdict.AwaitsSecondReader), ("ann", ReadingVerdict.ReadersDiffer)).ReadersDiffer);
        Assert.False(LineOf("cat", ("ben", ReadingVerdict.AwaitsSecondReader)).ReadersDiffer);
    }

    [Fact]
    public void LastReadingOfALineCountsInTheProgress()
    {
        var progress = ReadingSheet.Progress(Sound,
        [
            Reading("propanone-semicarbazone", "ben", ReadingVerdict.AwaitsSecondReader),
            Reading("propanone-semicarbazone", "ann", ReadingVerdict.Differs),
            Reading("trioxane-semicarbazone", "ann", ReadingVerdict.NotPrinted),
            Reading("no-longer-there", "ann", ReadingVerdict.Agrees),
        ]);

        Assert.Equal([ReadingVerdict.Differs, ReadingVerdict.NotPrinted], progress["other-journal"].Order());
    }

    private static SheetLine LineOf(string reader, params (string Reader, ReadingVerdict Verdict)[] readings) => ReadingSheet.Of(
        Sound, Other, [.. readings.Select(each => Reading("propanone-semicarbazone", each.Reader, each.Verdict))], reader, [], SheetOrder.Name)
        .Single(line => line.Parent.Key == "propanone");

    private static IReadOnlyList<SheetLine> Lines(
        ReferenceTable table, Source source, string[]? kinds = null, SheetOrder order = SheetOrder.Name) =>
        ReadingSheet.Of(table, source, [], "ann", kinds ?? [], order);

    private static PrintedReading Reading(string key, string reader, ReadingVerdict verdict) => new()
    {
        Id = "1",
        SheetId = "1",
        SourceKey = "other-journal",
        RecordKey = key,
        ReadBy = reader,
        ReadAtUtc = default,
        TableVersion = 1,
        Verdict = verdict,
    };
}
