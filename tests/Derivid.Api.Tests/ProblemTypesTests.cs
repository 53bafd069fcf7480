using System.Runtime.CompilerServices;
using Derivid.Api.Problems;

namespace Derivid.Api.Tests;

/// <summary>The contributor guide lists every problem type, and no other.</summary>
public sealed class ProblemTypesTests
{
    [Fact]
    public void ContributorGuideListsThemAll()
    {
        var listed = File.ReadLines(Guide())
            .SkipWhile(line => line != "| slug | status | title |")
            .Skip(2)
            .TakeWhile(line => line.StartsWith('|'));

        var expected = ProblemTypes.All
            .OrderBy(type => type.Status).ThenBy(type => type.Slug, StringComparer.Ordinal)
            .Select(type => $"| `{type.Slug}` | {type.Status} | {type.Title} |");

        Assert.Equal(expected, listed);
    }

    private static string Guide([CallerFilePath] string here = "") =>
        Path.Combine(Path.GetDirectoryName(here)!, "..", "..", "DEVELOPERS.md");
}
