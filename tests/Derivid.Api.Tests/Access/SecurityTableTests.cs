using System.Text.RegularExpressions;
using Derivid.Testing;

namespace Derivid.Api.Tests.Access;

/// <summary>The table of risks and requirements names tests there are, and leaves no line out.</summary>
public sealed partial class SecurityTableTests
{
    // Groups with requirements at level 2; V3.6 has none.
    private static readonly (int Chapter, int[] Groups)[] Verification =
    [
        (1, [.. Enumerable.Range(1, 14)]), (2, [.. Enumerable.Range(1, 10)]), (3, [1, 2, 3, 4, 5, 7]), (4, [1, 2, 3]),
        (5, [1, 2, 3, 4, 5]), (6, [1, 2, 3, 4]), (7, [1, 2, 3, 4]), (8, [1, 2, 3]), (9, [1, 2]), (10, [1, 2, 3]), (11, [1]),
        (12, [.. Enumerable.Range(1, 6)]), (13, [1, 2, 3, 4]), (14, [1, 2, 3, 4, 5]),
    ];

    private static readonly string[][] Rows = [.. File.ReadLines(RepositoryFiles.At("src", "Derivid.Api", "Access", "security.md"))
        .Where(line => Line().IsMatch(line))
        .Select(line => line.Trim('|', ' ').Split(" | "))];

    [Fact]
    public void EveryLineIsThereOnceAndHasATestOrAReason()
    {
        var expected = Enumerable.Range(1, 10).Select(risk => $"API{risk}")
            .Concat(Verification.SelectMany(chapter => chapter.Groups.Select(group => $"V{chapter.Chapter}.{group}")));

        Assert.Equal(expected, Rows.Select(row => row[0].Split(' ')[0]));
        Assert.All(Rows, row => Assert.True(
            row is [_, _, var shown] && (Test().IsMatch(shown) || shown.Contains("not apply", StringComparison.Ordinal)
                || shown.Contains("no test", StringComparison.Ordinal) || shown.Contains("not met", StringComparison.Ordinal) || shown.StartsWith("see ", StringComparison.Ordinal)),
            string.Join(" | ", row)));
    }

    [Fact]
    public void EveryTestNamedIsThere()
    {
        var sources = Directory.EnumerateFiles(RepositoryFiles.At("tests"), "*Tests*.cs", SearchOption.AllDirectories)
            .Select(File.ReadAllText).ToList();
        var named = Rows.SelectMany(row => Test().Matches(row[2])).Select(match => (Class: match.Groups[1].Value, Method: match.Groups[2].Value)).ToHashSet();

        Assert.NotEmpty(named);
        Assert.All(named, test => Assert.Contains(sources, source =>
            Regex.IsMatch(source, $@"class {test.Class}\b") && (test.Method.Length == 0 || source.Contains($" {test.Method}(", StringComparison.Ordinal))));
    }

    [GeneratedRegex(@"^\| (API|V)\d")]
    private static partial Regex Line();

    [GeneratedRegex(@"`(\w+Tests)(?:\.(\w+))?`")]
    private static partial Regex Test();
}
