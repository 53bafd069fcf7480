using System.Globalization;
using CsvHelper;
using CsvHelper.Configuration;
using Derivid.Core;

namespace Derivid.Store.Seeding;

/// <summary>Parts a file into rows of cells as people send it, whatever program wrote it.</summary>
/// <remarks>
/// Commas, semicolons or tabs, as the first line has them; a byte order mark; empty rows. One row is in memory at a time, and no more of
/// it than a row may hold: a few bytes sent may unpack to a row of millions of cells.
/// </remarks>
public static class SheetRows
{
    /// <summary>Most cells of a row. Chosen: a learning system's gradebook has hundreds.</summary>
    public const int MostCells = 4096;

    /// <summary>Longest row. Units: characters, with what parts and quotes its cells. Chosen: every cell of a row of the table as long as one may be.</summary>
    public const int LongestRow = 1024 * 1024;

    /// <summary>Parts it.</summary>
    /// <param name="text">The file.</param>
    /// <param name="longestCell">Longest cell taken. Units: characters.</param>
    /// <returns>
    /// Shape: first the header in lower case, then every row that isn't empty, cells as they stand. A cell or a row that is too long
    /// is a last row without cells, for nothing behind it can be told apart.
    /// </returns>
    public static IEnumerable<SheetRow> Read(TextReader text, int longestCell)
    {
        ArgumentNullException.ThrowIfNull(text);
        using var counted = new SheetText(text);
        var first = (counted.ReadLine() ?? "").TrimStart('\uFEFF');
        var delimiter = SpreadsheetHabits.DelimiterOf(first);
        yield return new SheetRow(1, [.. Names(first, delimiter).Select(name => name.Trim().ToLowerInvariant())], null);

        counted.Bound(delimiter);
        var isBad = false;
        using var parser = new CsvParser(
            counted,
            new CsvConfiguration(CultureInfo.InvariantCulture)
            {
                Delimiter = delimiter.ToString(),
                IgnoreBlankLines = false,
                MaxFieldSize = longestCell,
                BadDataFound = _ => isBad = true,
            },
            leaveOpen: true);
        while (true)
        {
            isBad = false;

            // Where the row begins; a cell may hold lines. The header's own line has been read before the parser began.
            var line = parser.RawRow + 2;
            if (!TryRead(parser, out var tooLong))
            {
                if (tooLong is RowTooLongException)
                {
                    yield return new SheetRow(line, [], $"a row of at most {Figure.Count(MostCells, "cell")} and {Figure.Count(LongestRow, "character")}");
                }
                else if (tooLong is not null)
                {
                    yield return new SheetRow(line, [], counted.LinesToEnd() - line is > 0 and var swallowed && parser.RawRecord.Contains('"', StringComparison.Ordinal)
                        ? Unclosed(swallowed)
                        : $"a cell of at most {Figure.Count(longestCell, "character")}");
                }

                yield break;
            }

            var cells = parser.Record!;
            if (parser.RawRecord.Count(letter => letter == '"') % 2 == 1 && counted.Peek() < 0 && parser.RawRow + 1 >= counted.LinesToEnd())
            {
                yield return new SheetRow(line, [.. cells.Select(cell => cell.ReplaceLineEndings(" "))], Unclosed(counted.LinesToEnd() - line));
            }
            else if (isBad)
            {
                yield return new SheetRow(line, cells, "cells with quotation marks around the whole of them, those inside doubled (RFC 4180)");
            }
            else if (!cells.All(string.IsNullOrWhiteSpace))
            {
                yield return new SheetRow(line, cells, null);
            }
        }
    }

    private static string Unclosed(int linesAfter) => "a closing quotation mark; one that is opened in this row isn't closed"
        + (linesAfter > 0 ? $", and what follows to the end of the file, {Figure.Count(linesAfter, "line")}, was read as part of its cell" : "");

    // What is too long comes out as such; then nothing is read.
    private static bool TryRead(CsvParser parser, out Exception? tooLong)
    {
        tooLong = null;
        try
        {
            return parser.Read();
        }
        catch (Exception fault) when (fault is MaxFieldSizeException or RowTooLongException)
        {
            tooLong = fault;
            return false;
        }
    }

    // A name in quotation marks may hold what parts the others.
    private static string[] Names(string first, char delimiter)
    {
        using var text = new StringReader(first);
        using var parser = new CsvParser(
            text, new CsvConfiguration(CultureInfo.InvariantCulture) { Delimiter = delimiter.ToString(), BadDataFound = null });
        return parser.Read() ? parser.Record! : [""];
    }
}

/// <summary>A text that counts the lines read of it, and gives no more of a row than one may hold.</summary>
/// <remarks>It tells rows and cells apart as the parser behind it does, which holds a row until it ends.</remarks>
internal sealed class SheetText(TextReader text) : TextReader
{
    private const char Quote = '"';

    // Missing: null, rows are not bounded.
    private char? _delimiter;
    private bool _isRowTooLong;
    private int _lines;
    private char _last = '\n';

    private int _letters;
    private int _cells;
    private Within _within;

    // Where in a cell a letter stands.
    private enum Within
    {
        Start,
        Plain,
        Quotes,

        // Behind a quotation mark that ends the cell, unless another follows.
        Closed,
    }

    /// <summary>Has rows bounded from here on; here one begins.</summary>
    /// <param name="delimiter">What parts cells.</param>
    public void Bound(char delimiter) => _delimiter = delimiter;

    /// <summary>Reads the rest.</summary>
    /// <returns>How many lines the whole of it has.</returns>
    public int LinesToEnd()
    {
        _delimiter = null;
        var rest = new char[4096];
        while (Read(rest) > 0)
        {
        }

        return _lines + (_last == '\n' ? 0 : 1);
    }

    public override string? ReadLine()
    {
        var line = text.ReadLine();
        _lines += line is null ? 0 : 1;
        return line;
    }

    public override int Peek() => text.Peek();

    public override int Read()
    {
        var letter = new char[1];
        return Read(letter) > 0 ? letter[0] : -1;
    }

    public override int Read(char[] buffer, int index, int count) => Read(buffer.AsSpan(index, count));

    /// <exception cref="RowTooLongException">The row that what was given before ends in is too long.</exception>
    public override int Read(Span<char> buffer)
    {
        var read = _isRowTooLong && _delimiter is not null ? 0 : text.Read(buffer);
        if (_delimiter is { } delimiter && Overflow(buffer[..read], delimiter) is { } end)
        {
            // What stands before it is given yet, for rows that are not too long end there.
            (_isRowTooLong, read) = (true, end);
        }

        if (_isRowTooLong && _delimiter is not null && read == 0)
        {
            throw new RowTooLongException();
        }

        _lines += buffer[..read].Count('\n');
        _last = read == 0 ? _last : buffer[read - 1];
        return read;
    }

    // Where a row holds too much. Missing: null, none does.
    private int? Overflow(ReadOnlySpan<char> letters, char delimiter)
    {
        for (var place = 0; place < letters.Length; place++)
        {
            var letter = letters[place];
            if (_within is not Within.Quotes && letter is '\r' or '\n')
            {
                (_letters, _cells, _within) = (0, 0, Within.Start);
                continue;
            }

            if (_within is not Within.Quotes && letter == delimiter)
            {
                _cells++;
                _within = Within.Start;
            }
            else
            {
                _within = (_within, letter) switch
                {
                    (Within.Start or Within.Closed, Quote) => Within.Quotes,
                    (Within.Quotes, Quote) => Within.Closed,
                    (Within.Quotes, _) => Within.Quotes,
                    _ => Within.Plain,
                };
            }

            if (++_letters > SheetRows.LongestRow || _cells >= SheetRows.MostCells)
            {
                return place;
            }
        }

        return null;
    }
}

/// <summary>A row holds more than one may.</summary>
internal sealed class RowTooLongException() : Exception("A row is longer than a row may be.");

/// <summary>One row of a file.</summary>
/// <param name="Line">Line in the file, the header being line 1.</param>
/// <param name="Cells">Its cells.</param>
/// <param name="Allowed">What would be allowed, in a sentence, where it can't be parted into cells. Missing: null, it can.</param>
public sealed record SheetRow(int Line, IReadOnlyList<string> Cells, string? Allowed);
