using System.Globalization;
using CsvHelper;
using CsvHelper.Configuration;
using Derivid.Core;

namespace Derivid.Store.Seeding;

/// <summary>Parts a file into rows of cells as people send it, whatever program wrote it.</summary>
/// <remarks>Commas, semicolons or tabs, as the first line has them; a byte order mark; empty rows. One row is in memory at a time.</remarks>
public static class SheetRows
{
    /// <summary>Parts it.</summary>
    /// <param name="text">The file.</param>
    /// <param name="longestCell">Longest cell taken. Units: characters.</param>
    /// <returns>
    /// Shape: first the header in lower case, then every row that isn't empty, cells as they stand. A cell that is too long
    /// is a last row without cells, for nothing behind it can be told apart.
    /// </returns>
    public static IEnumerable<SheetRow> Read(TextReader text, int longestCell)
    {
        ArgumentNullException.ThrowIfNull(text);
        using var counted = new CountedText(text);
        var first = (counted.ReadLine() ?? "").TrimStart('\uFEFF');
        var delimiter = SpreadsheetHabits.DelimiterOf(first);
        yield return new SheetRow(1, [.. Names(first, delimiter).Select(name => name.Trim().ToLowerInvariant())], null);

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
            if (!TryRead(parser, out var isTooLong))
            {
                if (isTooLong)
                {
                    yield return new SheetRow(line, [], counted.LinesToEnd() - line is > 0 and var swallowed && parser.RawRecord.Contains('"', StringComparison.Ordinal)
                        ? Unclosed(swallowed)
                        : string.Create(CultureInfo.InvariantCulture, $"a cell of at most {longestCell} characters"));
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

    private static bool TryRead(CsvParser parser, out bool isTooLong)
    {
        isTooLong = false;
        try
        {
            return parser.Read();
        }
        catch (MaxFieldSizeException)
        {
            isTooLong = true;
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

/// <summary>A text that counts the lines read of it.</summary>
internal sealed class CountedText(TextReader text) : TextReader
{
    private int _lines;
    private char _last = '\n';

    /// <summary>Reads the rest.</summary>
    /// <returns>How many lines the whole of it has.</returns>
    public int LinesToEnd()
    {
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
        var letter = text.Read();
        if (letter >= 0)
        {
            Count([(char)letter]);
        }

        return letter;
    }

    public override int Read(char[] buffer, int index, int count) => Read(buffer.AsSpan(index, count));

    public override int Read(Span<char> buffer)
    {
        var read = text.Read(buffer);
        Count(buffer[..read]);
        return read;
    }

    private void Count(ReadOnlySpan<char> letters)
    {
        _lines += letters.Count('\n');
        _last = letters.IsEmpty ? _last : letters[^1];
    }
}

/// <summary>One row of a file.</summary>
/// <param name="Line">Line in the file, the header being line 1.</param>
/// <param name="Cells">Its cells.</param>
/// <param name="Allowed">What would be allowed, in a sentence, where it can't be parted into cells. Missing: null, it can.</param>
public sealed record SheetRow(int Line, IReadOnlyList<string> Cells, string? Allowed);
