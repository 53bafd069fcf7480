using System.Globalization;
using CsvHelper;
using CsvHelper.Configuration;

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
        var first = (text.ReadLine() ?? "").TrimStart('\uFEFF');
        var delimiter = SpreadsheetHabits.DelimiterOf(first);
        yield return new SheetRow(1, [.. Names(first, delimiter).Select(name => name.Trim().ToLowerInvariant())], null);

        var isBad = false;
        using var parser = new CsvParser(
            text,
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
                    yield return new SheetRow(line, [], string.Create(
                        CultureInfo.InvariantCulture,
                        $"a cell of at most {longestCell} characters; a quotation mark before it may not be closed"));
                }

                yield break;
            }

            var cells = parser.Record!;
            if (isBad)
            {
                yield return new SheetRow(line, cells, "cells with quotation marks around the whole of them, those inside doubled (RFC 4180)");
            }
            else if (!cells.All(string.IsNullOrWhiteSpace))
            {
                yield return new SheetRow(line, cells, null);
            }
        }
    }

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

/// <summary>One row of a file.</summary>
/// <param name="Line">Line in the file, the header being line 1.</param>
/// <param name="Cells">Its cells.</param>
/// <param name="Allowed">What would be allowed, in a sentence, where it can't be parted into cells. Missing: null, it can.</param>
public sealed record SheetRow(int Line, IReadOnlyList<string> Cells, string? Allowed);
