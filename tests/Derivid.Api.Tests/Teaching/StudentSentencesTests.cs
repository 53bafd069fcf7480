using System.Reflection;
using Derivid.Core.Teaching.Grading;
using Derivid.Testing;

namespace Derivid.Api.Tests.Teaching;

/// <summary>The sentences that students read, printed for people to read through.</summary>
/// <remarks>With DERIVID_RESEAL=1 in the environment they are written; else compared.</remarks>
public sealed class StudentSentencesTests
{
    private static string Artefact => RepositoryFiles.At("tests", "reference-values", "student-sentences.md");

    [Fact]
    public void EverySentenceHasAnExample()
    {
        var sentences = typeof(StudentSentences).GetMethods(BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic)
            .Where(method => method is { ReturnType.Name: nameof(String), IsPrivate: false }).Select(method => method.Name);

        Assert.Equal(sentences.Distinct().Order(), StudentSentences.Examples.Select(each => each.Name).Distinct().Order());
        Assert.All(StudentSentences.Examples, each => Assert.False(string.IsNullOrWhiteSpace(each.Example), each.Name));
    }

    [Fact]
    public void NoSentenceForStudentsIsWordedElsewhere()
    {
        var folder = RepositoryFiles.At("src", "Derivid.Core", "Teaching", "Grading");
        var elsewhere = Directory.GetFiles(folder, "*.cs").Where(file => Path.GetFileName(file) != "StudentSentences.cs")
            .SelectMany(file => File.ReadLines(file).Select(line => (File: Path.GetFileName(file), Line: line.Trim())))
            .Where(each => (each.Line.Contains("ForStudents = ", StringComparison.Ordinal)
                    || each.Line.Contains("ellsIdentity: false", StringComparison.Ordinal))
                && each.Line.Contains('"', StringComparison.Ordinal) && !each.Line.Contains("string.Join(", StringComparison.Ordinal));

        Assert.Empty(elsewhere);
    }

    [Fact]
    public async Task ExamplesArePrintedForPeopleToRead()
    {
        var printed = "# What students read in grades and feedback\n\n"
            + "Printed from `StudentSentences` by a test; the figures are made up. Parts of sentences stand beside the sentences they are put into.\n\n"
            + string.Concat(StudentSentences.Examples.Select(each => $"- `{each.Name}`: {each.Example.Trim()}\n"));
        if (ExampleFiles.IsResealing)
        {
            await File.WriteAllTextAsync(Artefact, printed, TestContext.Current.CancellationToken);
        }

        Assert.Equal(await File.ReadAllTextAsync(Artefact, TestContext.Current.CancellationToken), printed);
    }
}
