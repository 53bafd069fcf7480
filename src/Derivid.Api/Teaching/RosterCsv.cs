using System.Globalization;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Store.Seeding;

namespace Derivid.Api.Teaching;

/// <summary>A roster as a CSV file (RFC 4180): student, bench, place, neighbours, actor.</summary>
/// <remarks>
/// Read as <see cref="SheetRows"/> does; columns in any order, all but the first may be left out; neighbours parted by semicolons.
/// Cells that a spreadsheet would run as a formula carry an apostrophe in front, which is taken off again when read.
/// </remarks>
public static class RosterCsv
{
    private const int LongestCell = 2000;

    /// <summary>Writes a roster.</summary>
    /// <param name="students">The students.</param>
    public static string Write(IEnumerable<RosterStudent> students)
    {
        ArgumentNullException.ThrowIfNull(students);
        return CsvText.Write(RosterStudent.Columns, students.Select(student => new string?[]
        {
            student.Student,
            student.Bench,
            student.Place?.ToString(CultureInfo.InvariantCulture),
            string.Join(';', student.Neighbours ?? []),
            student.Actor,
        }));
    }

    /// <summary>Reads a roster.</summary>
    /// <param name="text">The file.</param>
    /// <param name="errors">Takes the faults, by line and column.</param>
    /// <returns>The students. It means something only while no faults were noted.</returns>
    public static IReadOnlyList<RosterStudent> Read(TextReader text, FieldErrors errors)
    {
        using var rows = SheetRows.Read(text, LongestCell).GetEnumerator();
        rows.MoveNext();
        List<string> header = [.. rows.Current.Cells];
        return IsHeader(header, errors) ? Students(rows, header, errors) : [];
    }

    private static bool IsHeader(List<string> header, FieldErrors errors)
    {
        foreach (var name in header.Where((name, i) => !RosterStudent.Columns.Contains(name) || header.Take(i).Contains(name)))
        {
            errors.Add(
                new CsvPlace(1).ToString(),
                $"{Text.Quoted(name)} is no column of a roster; allowed, each once: {string.Join(", ", RosterStudent.Columns)}.");
        }

        if (!header.Contains(RosterStudent.Columns[0]))
        {
            errors.Add(new CsvPlace(1).ToString(), "The first line must name the columns, and one of them must be student.");
        }

        return errors.Count == 0;
    }

    private static List<RosterStudent> Students(IEnumerator<SheetRow> rows, List<string> header, FieldErrors errors)
    {
        var students = new List<RosterStudent>();
        while (rows.MoveNext())
        {
            var row = rows.Current;
            if (row.Allowed is { } allowed)
            {
                errors.Add(new CsvPlace(row.Line).ToString(), $"Allowed: {allowed}.");
            }
            else if (row.Cells.Count != header.Count)
            {
                errors.Add(new CsvPlace(row.Line).ToString(), $"Holds {row.Cells.Count} cells; the first line has {header.Count}.");
            }
            else if (students.Count == Roster.LargestCount)
            {
                errors.Add(new CsvPlace(row.Line).ToString(), $"A roster has at most {Roster.LargestCount} students.");
                return students;
            }
            else
            {
                students.Add(Student(row, header, errors));
            }
        }

        return students;
    }

    private static RosterStudent Student(SheetRow row, List<string> header, FieldErrors errors)
    {
        var place = Cell("place");
        int? number = null;
        if (place is not null)
        {
            if (int.TryParse(place, NumberStyles.None, CultureInfo.InvariantCulture, out var read) && read <= RosterStudent.LargestPlace)
            {
                number = read;
            }
            else
            {
                errors.Add(
                    new CsvPlace(row.Line, "place").ToString(),
                    $"{Text.Quoted(place)} is no place; a whole number from 0 to {RosterStudent.LargestPlace} is allowed.");
            }
        }

        return new RosterStudent
        {
            Student = Cell("student") ?? "",
            Bench = Cell("bench"),
            Place = number,
            Neighbours = Cell("neighbours")?.Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries),
            Actor = Cell("actor"),
        };

        string? Cell(string column)
        {
            var at = header.IndexOf(column);
            return at >= 0 && SpreadsheetHabits.Cleaned(row.Cells[at]) is { Length: > 0 } cell ? cell : null;
        }
    }
}
