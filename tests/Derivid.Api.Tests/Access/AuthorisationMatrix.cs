using System.Runtime.CompilerServices;

namespace Derivid.Api.Tests.Access;

/// <summary>Reads authorisation-matrix.csv.</summary>
internal static class AuthorisationMatrix
{
    private const string Header = "method,path,closed,none,student,grader,instructor,administrator";

    private static readonly string[] Words = ["yes", "401", "403"];

    /// <summary>Who asks, in the order of the columns.</summary>
    public static IReadOnlyList<string> Askers { get; } = Header.Split(',')[2..];

    /// <summary>The rows: what each asker is answered, by "METHOD path".</summary>
    public static Dictionary<string, string[]> Read([CallerFilePath] string here = "")
    {
        var lines = File.ReadAllLines(Path.Combine(Path.GetDirectoryName(here)!, "authorisation-matrix.csv"))
            .Where(line => !line.StartsWith('#')).ToList();
        Assert.Equal(Header, lines[0]);
        var rows = lines[1..].Select(line => line.Split(',')).ToList();
        Assert.All(rows, row =>
        {
            Assert.Equal(2 + Askers.Count, row.Length);
            Assert.All(row[2..], word => Assert.Contains(word, Words));
        });
        Assert.Equal(rows.OrderBy(r => r[1], StringComparer.Ordinal).ThenBy(r => r[0], StringComparer.Ordinal), rows);
        return rows.ToDictionary(row => $"{row[0]} {row[1]}", row => row[2..]);
    }
}
