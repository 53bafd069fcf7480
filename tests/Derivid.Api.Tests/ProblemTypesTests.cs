using Derivid.Api.Http;
using Derivid.Testing;

namespace Derivid.Api.Tests;

/// <summary>The contributor guide lists every problem type, and no other.</summary>
public sealed class ProblemTypesTests
{
    [Fact]
    public void ContributorGuideListsThemAll()
    {
        var listed = File.ReadLines(RepositoryFiles.At("DEVELOPERS.md"))
            .SkipWhile(line => line != "| slug | status | title |")
            .Skip(2)
            .TakeWhile(line => line.StartsWith('|'));

        var expected = ProblemTypes.All
            .OrderBy(type => type.Status).ThenBy(type => type.Slug, StringComparer.Ordinal)
            .Select(type => $"| `{type.Slug}` | {type.Status} | {type.Title} |");

        Assert.Equal(expected, listed);
    }
}
