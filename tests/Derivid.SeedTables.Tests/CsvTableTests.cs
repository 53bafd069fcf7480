using System.Text;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Store.Seeding;

namespace Derivid.SeedTables.Tests;

public sealed class CsvTableTests
{
    private const string Header =
        "parent_key,property,low,high,pressure_kilopascals,source_key,locator,verification,measured_by,instrument,determinations,mean,spread,note\n";

    [Fact]
    public void EveryFileIsWrittenBackToTheSameBytes()
    {
        AssertRoundTrip(RecordKinds.Sources);
        AssertRoundTrip(RecordKinds.Parents);
        AssertRoundTrip(RecordKinds.ParentConstants);
        AssertRoundTrip(RecordKinds.DerivativeKinds);
        AssertRoundTrip(RecordKinds.Derivatives);
        AssertRoundTrip(RecordKinds.SpotTestQuestions);
        AssertRoundTrip(RecordKinds.SpotTests);
        AssertRoundTrip(RecordKinds.SpotTestResponses);
        AssertRoundTrip(RecordKinds.Colours);
        AssertRoundTrip(RecordKinds.ColourExpectations);
        AssertRoundTrip(RecordKinds.MeltingPointStandards);
        AssertRoundTrip(LeftOut.File);
    }

    [Theory]
    [InlineData("a,boiling-point,warm,1,101.325,s,,read,,,,,,", "low", "\"warm\"", "a decimal number with a point")]
    [InlineData("a,boiling-point,1e2,1,101.325,s,,read,,,,,,", "low", "\"1e2\"", "no exponent")]
    [InlineData("a,flash-point,1,1,,s,,read,,,,,,", "property", "\"flash-point\"", "boiling-point, melting-point")]
    [InlineData("a,melting-point,1,1,,,,read,,,,,,", "source_key", "\"\"", "a text")]
    [InlineData("a,melting-point,1,1,,s ,,read,,,,,,", "source_key", "\"s \"", "no spaces at either end")]
    [InlineData("a,melting-point,1,1,,s,,seen,,,,,,", "verification", "\"seen\"", "recalled, read, cross-checked, measured")]
    public void WrongCellIsRefusedWithFileLineColumnValueAndAllowed(
        string row,
        string column,
        string value,
        string allowed)
    {
        var text = Header + "a,melting-point,1,1,,s,,read,,,,,,\n" + row + "\n";

        var refusal = Assert.Throws<SeedTableException>(() => CsvTable.Read(RecordKinds.ParentConstants, new StringReader(text)));

        Assert.StartsWith($"parent-constants.csv line 3, column {column}: {value} is not allowed; allowed: ",
            refusal.Message, StringComparison.Ordinal);
        Assert.Contains(allowed, refusal.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("")]
    [InlineData("parent_key,property\n")]
    public void WrongHeaderIsRefused(string text)
    {
        var refusal = Assert.Throws<SeedTableException>(() => CsvTable.Read(RecordKinds.ParentConstants, new StringReader(text)));

        Assert.StartsWith("parent-constants.csv line 1: header", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void WrongWidthIsRefused()
    {
        var refusal = Assert.Throws<SeedTableException>(
            () => CsvTable.Read(RecordKinds.ParentConstants, new StringReader(Header + "a,b\n")));

        Assert.Equal("parent-constants.csv line 2: 2 cells are not allowed; allowed: 14.", refusal.Message);
    }

    [Fact]
    public void ListsFlagsAndMissingCellsAreReadAndWritten()
    {
        var row = "k,p,oxime,1,,45,46.5,no,no,,s,,45-46.5,unstated,recalled,,,,,,";
        var text = string.Join(',', CsvTable.Header(RecordKinds.Derivatives)) + "\n" + row + "\n";

        var read = Assert.Single(CsvTable.Read(RecordKinds.Derivatives, new StringReader(text)));

        Assert.Null(read.Form);
        Assert.Null(read.Corrected);
        Assert.Equal(46.5, read.HighCelsius);
        Assert.Equal(Verification.Recalled, read.Verification);
        Assert.Equal(text, Written(RecordKinds.Derivatives, [read]));
    }

    private static void AssertRoundTrip<T>(RecordKind<T> kind)
        where T : class =>
        Assert.Equal(
            Encoding.UTF8.GetString(SeedFolder.Bytes(kind.FileName)),
            Written(kind, SeedFolder.Read(kind)));

    private static string Written(RecordKind kind, IReadOnlyList<object> records)
    {
        using var text = new StringWriter();
        CsvTable.Write(kind, text, records);
        return text.ToString();
    }
}
