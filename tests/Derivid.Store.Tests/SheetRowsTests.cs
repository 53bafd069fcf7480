using Derivid.Store.Seeding;

namespace Derivid.Store.Tests;

/// <summary>What a file may hold of one row, told before the row is held.</summary>
public sealed class SheetRowsTests
{
    private const string Allowed = "a row of at most 4,096 cells and 1,048,576 characters";

    [Theory]
    [InlineData(",")]
    [InlineData("\"a\",")]
    [InlineData("\"\n\",")]
    [InlineData("x\"y,")]
    [InlineData("\"a\"b\",")]
    public void RowWithoutEndIsReadNoFartherThanARowMayGo(string again)
    {
        using var text = new Endless("one,two\n1,2\n", again);

        var rows = SheetRows.Read(text, 2000).ToList();

        Assert.Equal(["one two", "1 2", ""], rows.Select(row => string.Join(' ', row.Cells)));
        Assert.Equal((3, Allowed), (rows[2].Line, rows[2].Allowed));
        Assert.InRange(text.Given, 1, 2 * SheetRows.LongestRow);
    }

    [Fact]
    public void CellsOfARowMayNotBeTooLongTogether()
    {
        using var text = new Endless("one,two\n", new string('a', 1999) + ',');

        var rows = SheetRows.Read(text, 2000).ToList();

        Assert.Equal((2, Allowed), (rows[^1].Line, rows[^1].Allowed));
    }

    [Theory]
    [InlineData("a,\"b,b\n,\",c", "a|b,b\n,|c")]
    [InlineData("a,\"b\"\"b\",c", "a|b\"b|c")]
    public void RowsOfManyCellsAreTakenOneAfterTheOther(string row, string cells)
    {
        const int Rows = 5000;
        using var text = new StringReader("one,two,three\n" + string.Concat(Enumerable.Repeat(row + "\n", Rows)));

        var read = SheetRows.Read(text, 2000).Skip(1).ToList();

        Assert.Equal(Rows, read.Count);
        Assert.All(read, each => Assert.Equal((cells, null), (string.Join('|', each.Cells), each.Allowed)));
    }

    // A text that goes on as long as it is read.
    private sealed class Endless(string start, string again) : TextReader
    {
        public long Given { get; private set; }

        public override int Peek() => Letter(Given);

        public override int Read()
        {
            var letter = Letter(Given);
            Given++;
            return letter;
        }

        public override int Read(Span<char> buffer)
        {
            foreach (ref var letter in buffer)
            {
                letter = (char)Read();
            }

            return buffer.Length;
        }

        private char Letter(long place) => place < start.Length ? start[(int)place] : again[(int)((place - start.Length) % again.Length)];
    }
}
