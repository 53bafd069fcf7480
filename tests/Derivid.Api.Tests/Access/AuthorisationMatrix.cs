using System.Runtime.CompilerServices;

namespace Derivid.Api.Tests.Access;

/// <summary>Reads authorisation-matrix.csv.</summary>
internal static class AuthorisationMatrix
{
    private const string Header = "method,path,closed,none,student,grader,instructor,administrator,course";

    private static readonly string[] Words = ["yes", "401", "403"];

    private static readonly string[] Courses = ["", "own", "staff", "owner"];

    /// <summary>Who asks, in the order of the columns.</summary>
    public static IReadOnlyList<string> Askers { get; } = Header.Split(',')[2..^1];

    /// <summary>What each asker is answered, by "METHOD path".</summary>
    public static Dictionary<string, string[]> Read() => Rows().ToDictionary(row => $"{row[0]} {row[1]}", row => row[2..^1]);

    /// <summary>Endpoints of one course, and whose it has to be.</summary>
    public static IEnumerable<(string Method, string Path, string Whose)> OfCourses() =>
        Rows().Where(row => row[^1].Length > 0).Select(row => (row[0], row[1], row[^1]));

    private static List<string[]> Rows([CallerFilePath] string here = "")
    {
        var lines = File.ReadAllLines(Path.Combine(Path.GetDirectoryName(here)!, "authorisation-matrix.csv"))
            .Where(line => !line.StartsWith('#')).ToList();
        Assert.Equal(Header, lines[0]);
        var rows = lines[1..].Select(line => line.Split(',')).ToList();
        Assert.All(rows, row =>
        {
            Assert.Equal(2 + Askers.Count + 1, row.Length);
            Assert.All(row[2..^1], word => Assert.Contains(word, Words));
            Assert.Contains(row[^1], Courses);
            Assert.Equal(row[1].StartsWith("/api/v1/courses/{id}", StringComparison.Ordinal), row[^1].Length > 0);
        });
        Assert.Equal(rows.OrderBy(r => r[1], StringComparer.Ordinal).ThenBy(r => r[0], StringComparer.Ordinal), rows);
        return rows;
    }
}
