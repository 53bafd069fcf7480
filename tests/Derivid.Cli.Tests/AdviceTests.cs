using System.Text.RegularExpressions;
using Derivid.Api.Http;
using Derivid.Testing;

namespace Derivid.Cli.Tests;

/// <summary>The service's advice in the words of the command.</summary>
public sealed partial class AdviceTests
{
    [Theory]
    [InlineData("No grades are published yet; name a grading with ?grading=.", "No grades are published yet; name a grading with --grading.")]
    [InlineData("The archive tells of 2 classes; say which one with ?class=: a, b.", "The archive tells of 2 classes; say which one with --class: a, b.")]
    [InlineData("Nothing was stored. The same request with ?store=false is still answered; or try again in a few seconds.", "Nothing was stored. With --no-store it is still answered; or try again in a few seconds.")]
    [InlineData("for the rows of one list say with ?table which", "for the rows of one list say with --list which")]
    [InlineData("Write it like 125-127 °C.", "Write it like 125-127 °C.")]
    public void OptionsStandInPlaceOfParameters(string service, string command) => Assert.Equal(command, Advice.InOwnWords(service));

    [Theory]
    [InlineData("", "(whole body)")]
    [InlineData("?studentColumn", "--student-column")]
    [InlineData("?table", "--list")]
    [InlineData("/derivatives/0/kind", "/derivatives/0/kind")]
    public void PlacesAreTheCommands(string service, string command) => Assert.Equal(command, Advice.PlaceInOwnWords(service));

    // Sentences are made up where they are needed, so they are looked for in the sources: what a problem or a fault says.
    [Fact]
    public void NothingThatTheServiceSaysOfRefusalsNamesItsParametersHeadersOrAddresses()
    {
        var sentences = ProblemTypes.All.Select(type => type.Example).Concat(
            from room in (string[])["Derivid.Api", "Derivid.Store"]
            from file in Directory.EnumerateFiles(RepositoryFiles.At("src", room), "*.cs", SearchOption.AllDirectories)
            where !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal)
            from Match said in Said().Matches(File.ReadAllText(file))
            select said.Groups["text"].Value).ToList();

        Assert.Contains(sentences, sentence => sentence.Contains("/api/v1/thermometers", StringComparison.Ordinal));
        Assert.Contains(sentences, sentence => sentence.Contains("?class=", StringComparison.Ordinal));
        Assert.All(sentences.Select(Advice.InOwnWords), sentence => Assert.DoesNotMatch(OfTheService(), sentence));
    }

    [GeneratedRegex(@"(?:new Problem\(|FieldErrors\.One\(|errors\.Add\()[^;]*?\$?""(?<text>[^""\n]*(?:\?[a-z][A-Za-z]+=|/api/v1/|ETag|If-Match)[^""\n]*)""")]
    private static partial Regex Said();

    [GeneratedRegex(@"\?[a-z][A-Za-z]+=|\b[a-z][A-Za-z]+=(?:true|false)|/api/v1/|ETag|If-Match|Idempotency-Key")]
    private static partial Regex OfTheService();
}
