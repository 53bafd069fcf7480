using System.Text.Json;
using System.Text.RegularExpressions;
using Derivid.Testing;

namespace Derivid.Api.Tests;

/// <summary>The first result that the README promises is the one the service gives.</summary>
public sealed partial class ReadmeTests(SqliteService service)
{
    [Fact]
    public async Task AnswerShownIsTheAnswerGiven()
    {
        var text = await File.ReadAllTextAsync(RepositoryFiles.At("README.md"), TestContext.Current.CancellationToken);
        var answer = await service.Client.IdentifiedAsync(FirstBody().Match(text).Groups[1].Value);
        var second = answer.GetProperty("candidates")[1];
        var step = answer.GetProperty("nextSteps")[0];

        Assert.All<JsonElement>(
            [
                answer.GetProperty("id"),
                answer.GetProperty("modelVersion"),
                answer.GetProperty("summary"),
                second.GetProperty("parent").GetProperty("key"),
                second.GetProperty("posterior"),
                second.GetProperty("logLikelihoodRatio"),
                second.GetProperty("evidence")[0].GetProperty("logLikelihoodRatio"),
                second.GetProperty("evidence")[0].GetProperty("sentence"),
                answer.GetProperty("noneOfThese").GetProperty("posterior"),
                step.GetProperty("expectedInformation"),
                step.GetProperty("sentence"),
            ],
            shown => Assert.Contains(shown.ToString(), text, StringComparison.Ordinal));
    }

    [GeneratedRegex("api/v1/identifications [^']*'Content-Type: application/json' -d '([^']*)'")]
    private static partial Regex FirstBody();
}
