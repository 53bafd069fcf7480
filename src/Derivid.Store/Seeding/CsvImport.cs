using System.Globalization;
using CsvHelper;
using CsvHelper.Configuration;
using Derivid.Core.Curation;

namespace Derivid.Store.Seeding;

/// <summary>Reads a table file as people send it: every fault told, the habits of spreadsheet programs undone.</summary>
/// <remarks>
/// Commas, semicolons or tabs, as the header has them; columns in any order; a byte order mark; spaces at either end;
/// decimal commas; typographic minus signs; empty rows and empty cells past the last column. One row is in memory at a time.
/// </remarks>
public static class CsvImport
{
    private const int LongestCell = 20_000;

    /// <summary>Reads every row.</summary>
    /// <param name="kind">The kind of record.</param>
    /// <param name="text">The text.</param>
    /// <returns>
    /// Shape: one entry a row that isn't empty. A header that can't be taken, or text that can't be parted into cells
    /// any further, is a last entry with faults.
    /// </returns>
    public static IEnumerable<CsvRecord> Read(RecordKind kind, TextReader text)
    {
        ArgumentNullException.ThrowIfNull(kind);
        ArgumentNullException.ThrowIfNull(text);
        var first = text.ReadLine() ?? "";
        var delimiter = SpreadsheetHabits.DelimiterOf(first);
        var header = first.Split(delimiter).Select(name => Unquoted(name).Trim().ToLowerInvariant()).ToList();
        while (header.Count > kind.Columns.Count && header[^1].Length == 0)
        {
            header.RemoveAt(header.Count - 1);
        }

        var faults = HeaderFaults(kind, header).ToList();
        return faults.Count > 0 ? [new CsvRecord(1, null, faults)] : Rows(kind, header, text, delimiter);
    }

    private static IEnumerable<CellFault> HeaderFaults(RecordKind kind, List<string> header)
    {
        var names = CsvTable.Header(kind);
        var allowed = "each of these once: " + string.Join(", ", names);
        foreach (var name in header.Where((name, i) => !names.Contains(name) || header.IndexOf(name) < i))
        {
            yield return new CellFault(1, name, name, allowed);
        }

        foreach (var name in names.Except(header))
        {
            yield return new CellFault(1, name, "", "a column of this name; one whose cells are all missing is left empty");
        }
    }

    private static IEnumerable<CsvRecord> Rows(RecordKind kind, List<string> header, TextReader text, char delimiter)
    {
        var isBad = false;
        using var parser = new CsvParser(
            text,
            new CsvConfiguration(CultureInfo.InvariantCulture)
            {
                Delimiter = delimiter.ToString(),
                IgnoreBlankLines = false,
                MaxFieldSize = LongestCell,
                BadDataFound = _ => isBad = true,
            },
            leaveOpen: true);
        while (true)
        {
            isBad = false;
            if (!TryRead(parser, out var broken))
            {
                if (broken)
                {
                    yield return Fault(parser.RawRow + 2, "", "a cell of at most 20000 characters; a quotation mark before it may not be closed");
                }

                yield break;
            }

            // The header's own line has been read before the parser began.
            var line = parser.RawRow + 1;
            var cells = parser.Record!;
            if (isBad)
            {
                yield return Fault(line, string.Join(delimiter, cells), "cells with quotation marks around the whole of them, those inside doubled (RFC 4180)");
            }
            else if (!cells.All(string.IsNullOrWhiteSpace))
            {
                yield return RecordOf(kind, header, cells, line);
            }
        }
    }

    private static CsvRecord RecordOf(RecordKind kind, List<string> header, string[] cells, int line)
    {
        if (cells.Length < header.Count || !cells.Skip(header.Count).All(string.IsNullOrWhiteSpace))
        {
            return Fault(line, string.Join(' ', cells), string.Create(
                CultureInfo.InvariantCulture, $"{header.Count} cells; this row has {cells.Length}"));
        }

        string[] cleaned = [.. cells.Take(header.Count).Select(SpreadsheetHabits.Cleaned)];
        PrintedRangeCells.Fill(header, cleaned);
        var faults = new List<CellFault>();
        var values = new object?[kind.Columns.Count];
        foreach (var (place, column) in kind.Columns.Index())
        {
            var cell = cleaned[header.IndexOf(column.Name)];
            (values[place], var allowed) = column.Read(SpreadsheetHabits.Undone(column.Content, cell));
            if (allowed is not null)
            {
                faults.Add(new CellFault(line, column.Name, cell, allowed));
            }
        }

        return new CsvRecord(line, faults.Count > 0 ? null : kind.Make(values), faults);
    }

    private static bool TryRead(CsvParser parser, out bool isBroken)
    {
        isBroken = false;
        try
        {
            return parser.Read();
        }
        catch (MaxFieldSizeException)
        {
            isBroken = true;
            return false;
        }
    }

    private static CsvRecord Fault(int line, string value, string allowed) =>
        new(line, null, [new CellFault(line, "", value, allowed)]);

    private static string Unquoted(string name)
    {
        var trimmed = name.Trim();
        return trimmed.Length > 1 && trimmed[0] == '"' && trimmed[^1] == '"' ? trimmed[1..^1] : trimmed;
    }
}

/// <summary>What became of one row of a file.</summary>
/// <param name="Line">Line in the file, the header being line 1.</param>
/// <param name="Record">The record. Missing: null, the row has faults.</param>
/// <param name="Faults">Every cell that can't be taken. Shape: in the order of the fields; empty for a record.</param>
public sealed record CsvRecord(int Line, object? Record, IReadOnlyList<CellFault> Faults);

/// <summary>A cell that can't be taken as it stands.</summary>
/// <param name="Line">Line in the file, the header being line 1; in JSON the number of the item, from 1.</param>
/// <param name="Column">Name of the column, or of the JSON property. Missing: empty, the whole row.</param>
/// <param name="Value">What stands there.</param>
/// <param name="Allowed">What would be allowed, in a sentence.</param>
public sealed record CellFault(int Line, string Column, string Value, string Allowed);
