using System.Globalization;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Store.Seeding;

namespace Derivid.Api.Teaching;

/// <summary>A roster as a CSV file (RFC 4180): student, bench, place, neighbours, actor, group.</summary>
/// <remarks>
/// Read as <see cref="SheetRows"/> does; columns in any order, all but the first may be left out; neighbours parted by semicolons.
/// A learning system's own columns are passed over; then an identifier that looks like a name or an e-mail address is refused,
/// for some of them call a column of names "Student".
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
            student.Group,
        }));
    }

    /// <summary>Reads a roster.</summary>
    /// <param name="text">The file.</param>
    /// <param name="studentColumn">The column of the identifiers. Missing: null, "student".</param>
    /// <param name="remarks">Takes what was passed over.</param>
    /// <param name="errors">Takes the faults, by line and column.</param>
    /// <returns>The students. It means something only while no faults were noted.</returns>
    public static IReadOnlyList<RosterStudent> Read(TextReader text, string? studentColumn, List<string> remarks, FieldErrors errors)
    {
        using var rows = SheetRows.Read(text, LongestCell).GetEnumerator();
        rows.MoveNext();
        List<string> header = [.. rows.Current.Cells];
        var student = studentColumn?.Trim().ToLowerInvariant() ?? RosterStudent.Columns[0];
        IReadOnlyList<string> known = [student, .. RosterStudent.Columns.Skip(1)];
        List<string> foreign = [.. header.Where(name => !known.Contains(name))];
        if (!IsHeader(header, known, errors))
        {
            return [];
        }

        if (foreign.Count > 0)
        {
            remarks.Add($"Not read and not kept: {Named(foreign)}.");
        }

        return Students(rows, header, student, foreign.Count > 0 || studentColumn is not null, remarks, errors);
    }

    /// <summary>Columns by name, for a remark.</summary>
    /// <param name="columns">The names.</param>
    internal static string Named(IReadOnlyList<string> columns) =>
        $"{(columns.Count == 1 ? "the column" : "the columns")} {string.Join(", ", columns.Select(Text.Quoted))}";

    /// <summary>Whether what should identify a student looks like a name or an e-mail address, as far as that can be told.</summary>
    /// <param name="key">What should identify them.</param>
    internal static bool IsPersonal(string key) => key.Any(letter => letter is '@' or ',' || char.IsWhiteSpace(letter));

    private static bool IsHeader(List<string> header, IReadOnlyList<string> known, FieldErrors errors)
    {
        foreach (var name in known.Where(name => header.Count(each => each == name) > 1))
        {
            errors.Add(new CsvPlace(1).ToString(), $"{Text.Quoted(name)} is named more than once.");
        }

        if (!header.Contains(known[0]))
        {
            errors.Add(
                new CsvPlace(1).ToString(),
                $"The first line must name the columns, and one of them must be {known[0]}. It has {string.Join(", ", header.Select(Text.Quoted))}; ?studentColumn= says which of them holds the institution's own identifiers.");
        }

        return errors.Count == 0;
    }

    private static List<RosterStudent> Students(
        IEnumerator<SheetRow> rows, List<string> header, string studentColumn, bool isForeign, List<string> remarks, FieldErrors errors)
    {
        var students = new List<RosterStudent>();
        var nameless = new List<int>();
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
            else if (Student(row, header, studentColumn, errors) is var student && isForeign && student.Student.Length == 0)
            {
                nameless.Add(row.Line);
            }
            else if (isForeign && IsPersonal(student.Student))
            {
                errors.Add(
                    new CsvPlace(row.Line, studentColumn).ToString(),
                    "This looks like a name or an e-mail address, and neither is ever kept here. Say with ?studentColumn= which column holds the institution's own identifiers.");
            }
            else
            {
                students.Add(student);
            }
        }

        if (nameless.Count > 0)
        {
            remarks.Add($"Left out, having no identifier: {(nameless.Count == 1 ? "line" : "lines")} {string.Join(", ", nameless)}.");
        }

        return students;
    }

    private static RosterStudent Student(SheetRow row, List<string> header, string studentColumn, FieldErrors errors)
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
            Student = Cell(studentColumn) ?? "",
            Bench = Cell("bench"),
            Place = number,
            Neighbours = Cell("neighbours")?.Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries),
            Actor = Cell("actor"),
            Group = Cell("group"),
        };

        string? Cell(string column)
        {
            var at = header.IndexOf(column);
            return at >= 0 && SpreadsheetHabits.Cleaned(row.Cells[at]) is { Length: > 0 } cell ? cell : null;
        }
    }
}
