using System.Globalization;
using CsvHelper;
using CsvHelper.Configuration;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Store.Seeding;

namespace Derivid.Api.Teaching;

/// <summary>A roster as a CSV file (RFC 4180): student, bench, place, neighbours, actor.</summary>
/// <remarks>
/// Commas, semicolons or tabs; columns in any order, all but the first may be left out; neighbours parted by semicolons.
/// Cells that a spreadsheet would run as a formula carry an apostrophe in front, which is taken off again when read.
/// </remarks>
public static class RosterCsv
{
    private static readonly string[] Columns = ["student", "bench", "place", "neighbours", "actor"];

    /// <summary>Writes a roster.</summary>
    /// <param name="students">The students.</param>
    public static string Write(IEnumerable<RosterStudent> students)
    {
        ArgumentNullException.ThrowIfNull(students);
        return CsvText.Write(Columns, students.Select(student => new string?[]
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
    public static IReadOnlyList<RosterStudent> Read(string text, FieldErrors errors)
    {
        ArgumentNullException.ThrowIfNull(text);
        var first = text.Split('\n', 2)[0];
        using var parser = new CsvParser(
            new StringReader(text.TrimStart('\uFEFF')),
            new CsvConfiguration(CultureInfo.InvariantCulture)
            {
                Delimiter = SpreadsheetHabits.DelimiterOf(first).ToString(),
                MaxFieldSize = 2000,
                BadDataFound = null,
            });
        try
        {
            return parser.Read() && Header(parser.Record!, errors) is { } header ? Students(parser, header, errors) : [];
        }
        catch (MaxFieldSizeException)
        {
            errors.Add("line " + Line(parser), "A cell is longer than 2000 characters; a quotation mark before it may not be closed.");
            return [];
        }
    }

    private static List<string>? Header(string[] cells, FieldErrors errors)
    {
        var header = cells.Select(cell => cell.Trim().ToLowerInvariant()).ToList();
        foreach (var name in header.Where((name, i) => !Columns.Contains(name) || header.IndexOf(name) < i))
        {
            errors.Add(
                "line 1",
                $"{Text.Quoted(name)} is no column of a roster; allowed, each once: {string.Join(", ", Columns)}.");
        }

        if (!header.Contains(Columns[0]))
        {
            errors.Add("line 1", "The first line must name the columns, and one of them must be student.");
        }

        return errors.Count == 0 ? header : null;
    }

    private static List<RosterStudent> Students(CsvParser parser, List<string> header, FieldErrors errors)
    {
        var students = new List<RosterStudent>();
        while (parser.Read())
        {
            var cells = parser.Record!;
            if (cells.All(string.IsNullOrWhiteSpace))
            {
                continue;
            }

            if (cells.Length != header.Count)
            {
                errors.Add("line " + Line(parser), $"Holds {cells.Length} cells; the first line has {header.Count}.");
            }
            else if (students.Count == Roster.LargestCount)
            {
                errors.Add("line " + Line(parser), $"A roster has at most {Roster.LargestCount} students.");
                return students;
            }
            else
            {
                students.Add(Student(parser, header, errors));
            }
        }

        return students;
    }

    private static RosterStudent Student(CsvParser parser, List<string> header, FieldErrors errors)
    {
        var place = Cell("place");
        int? number = null;
        if (place is not null)
        {
            if (int.TryParse(place, NumberStyles.None, CultureInfo.InvariantCulture, out var read) && read <= 100_000)
            {
                number = read;
            }
            else
            {
                errors.Add(
                    $"line {Line(parser)}, place",
                    $"{Text.Quoted(place)} is no place; a whole number from 0 to 100000 is allowed.");
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
            return at >= 0 && SpreadsheetHabits.Cleaned(parser.Record![at]) is { Length: > 0 } cell ? cell : null;
        }
    }

    private static string Line(CsvParser parser) => parser.RawRow.ToString(CultureInfo.InvariantCulture);
}
