using System.Text;
using CsCheck;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Store.Curation;
using Derivid.Store.Seeding;

namespace Derivid.SeedTables.Tests.Curation;

/// <summary>Whatever the rules allow in a record is written out and read back to the letter and to the last digit.</summary>
public sealed class RoundTripTests
{
    private const string Letters = "ab Z09\u00e9\u03b1\u00b0\u2013\u00a0\"',;:=+-@()[]{}|\\/#<>&%\ufeff";

    private static readonly Gen<string> Texts = Gen.OneOf(
            Gen.Char[Letters].Array[1, 20].Select(letters => new string(letters)),
            Gen.Const("=HYPERLINK(\"x\")"), Gen.Const("''"), Gen.Const("'-"), Gen.Const("-1.5"), Gen.Const("\U0001F9EA tube"))
        .Where(text => text.Length > 0 && text == text.Trim());

    private static readonly Gen<double> Numbers = Gen.OneOf(
        Gen.Double[-1e9, 1e9], Gen.Double[-500, 500], Gen.Double[1e-9, 1e-5], Gen.Int[-300, 450].Select(whole => whole / 10.0), Gen.Const(0.0))
        .Where(number => number == 0 || Math.Abs(number) >= 1e-9);

    private static readonly Gen<Parent> Parents =
        Gen.Select(Texts, Texts.Where(text => !text.Contains(';', StringComparison.Ordinal)).Array[0, 3], Numbers, Texts.Null(), Gen.Enum<ParentKind>(), Gen.Int[0, 9999])
            .Select((name, synonyms, mass, note, kind, number) => new Parent
            {
                Key = $"p-{number}",
                Name = name,
                Synonyms = synonyms,
                CasNumber = "67-64-1",
                Smiles = "CC(C)=O",
                Formula = "C3H6O",
                MolarMass = mass,
                Kind = kind,
                Note = note,
            });

    private static readonly Gen<ParentConstant> Constants =
        Gen.Select(Gen.Enum<ParentProperty>(), Numbers, Numbers, Numbers.Nullable(), Texts.Null(), Gen.Enum<Verification>())
            .Select((property, low, high, pressure, locator, verification) => new ParentConstant
            {
                ParentKey = "p-1",
                Property = property,
                Low = low,
                High = high,
                PressureKilopascals = pressure,
                SourceKey = "source",
                Locator = locator,
                Verification = verification,
            });

    [Fact]
    public void CsvReadsBackTheSame()
    {
        Parents.Array[0, 8].Sample(rows => ReadsBack(RecordKinds.Parents, rows));
        Constants.Array[0, 8].Sample(rows => ReadsBack(RecordKinds.ParentConstants, rows));
    }

    [Fact]
    public void JsonReadsBackTheSame()
    {
        Parents.Sample(row => AreSame(RecordKinds.Parents, row, RecordText.Read(RecordKinds.Parents, RecordText.Write(row))!));
        Constants.Sample(row => AreSame(RecordKinds.ParentConstants, row, RecordText.Read(RecordKinds.ParentConstants, RecordText.Write(row))!));
    }

    [Fact]
    public void NothingWrittenBeginsAFormula() =>
        Parents.Array[1, 8].Sample(rows =>
        {
            var cells = rows.SelectMany(row => new[] { row.Name, row.Note ?? "", string.Join(';', row.Synonyms) }).Select(SpreadsheetHabits.Neutralised);
            return cells.All(cell => cell.Length == 0 || !"=+@\t\r".Contains(cell[0], StringComparison.Ordinal)
                && (cell[0] != '-' || double.TryParse(cell, System.Globalization.CultureInfo.InvariantCulture, out _)));
        });

    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("+9", "'+9")]
    [InlineData("-9", "-9")]
    [InlineData("-9.5", "-9.5")]
    [InlineData("-9+1", "'-9+1")]
    [InlineData("'9", "''9")]
    [InlineData("9", "9")]
    public void OnlyANegativeNumberMayBeginLikeAFormula(string cell, string written)
    {
        Assert.Equal(written, SpreadsheetHabits.Neutralised(cell));
        Assert.Equal(cell, SpreadsheetHabits.Cleaned(written));
    }

    private static bool ReadsBack(RecordKind kind, object[] rows)
    {
        var written = Written(kind, rows);
        var read = CsvImport.Read(kind, new StringReader(written)).ToList();
        return read.Count == rows.Length
            && read.Zip(rows).All(pair => pair.First.Record is { } record && AreSame(kind, pair.Second, record))
            && Written(kind, read.Select(row => row.Record!)) == written;
    }

    private static bool AreSame(RecordKind kind, object one, object other) => kind.ChangedFields(one, other).Count == 0;

    private static string Written(RecordKind kind, IEnumerable<object> rows)
    {
        var text = new StringBuilder();
        using (var writer = new StringWriter(text))
        {
            CsvTable.WriteNeutralised(kind, writer, rows);
        }

        return text.ToString();
    }
}
