using System.Text.RegularExpressions;
using Derivid.Core.Structures;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests;

/// <summary>Keys and names: unique, sorted, pointing at something.</summary>
public sealed partial class IdentityTests
{
    [Fact]
    public void KeysAreWellFormedUniqueAndSorted()
    {
        AssertKeys(Table.Sources.Select(source => source.Key));
        AssertKeys(Table.Parents.Select(parent => parent.Key));
        AssertKeys(Table.Kinds.Select(kind => kind.Key));
        AssertKeys(Table.Derivatives.Select(derivative => derivative.Key));
        AssertKeys(Table.Questions.Select(question => question.Key));
        AssertKeys(Table.SpotTests.Select(test => test.Key));
        AssertKeys(Table.Standards.Select(standard => standard.Key));
        Assert.Equal(Table.Colours.Count, Table.Colours.Select(colour => colour.Key).Distinct().Count());
        var ranks = Table.Colours.Select(colour => colour.Rank).OfType<int>().ToList();
        Assert.Equal(Enumerable.Range(0, ranks.Count), ranks);
        Assert.Equal(["colourless", "white"], Table.Colours.Where(colour => colour.Rank is null).Select(colour => colour.Key));
    }

    [Fact]
    public void NoNameOrSynonymStandsForTwoParents()
    {
        var names = Table.Parents.SelectMany(parent => parent.Synonyms.Append(parent.Name));

        Assert.Empty(Repeated(names));
    }

    [Fact]
    public void NoNameOrSynonymStandsForTwoKindsTestsOrColours()
    {
        Assert.Empty(Repeated(Table.Kinds.SelectMany(kind => kind.Synonyms.Append(kind.Name))));
        Assert.Empty(Repeated(Table.SpotTests.SelectMany(test => test.Synonyms.Append(test.Name))));
        Assert.Empty(Repeated(Table.Colours.SelectMany(colour => colour.Synonyms.Append(colour.Name))));
    }

    [Fact]
    public void NoCasNumberOrStructureStandsForTwoParents()
    {
        Assert.Empty(Repeated(Table.Parents.Select(parent => parent.CasNumber!)));
        Assert.Empty(Repeated(Table.Parents.Select(parent => Fingerprint(parent.Smiles))));
    }

    [Fact]
    public void NoDerivativeIsRecordedTwice() =>
        Assert.Empty(Table.Derivatives
            .GroupBy(derivative => derivative with { Key = "" })
            .Where(group => group.Count() > 1)
            .Select(group => group.First().Key));

    [Fact]
    public void NoConstantIsRecordedTwice() =>
        Assert.Empty(Table.Constants
            .GroupBy(constant => (constant.ParentKey, constant.Property, constant.SourceKey, constant.Low))
            .Where(group => group.Count() > 1)
            .Select(group => group.Key.ParentKey));

    [Fact]
    public void EveryKeyPointsAtARow()
    {
        var tests = Table.SpotTests.Select(test => test.Key).ToHashSet();
        var questions = Table.Questions.Select(question => question.Key).ToHashSet();
        var colours = Table.Colours.Select(colour => colour.Key).ToHashSet();
        Assert.All(Table.Derivatives, derivative =>
        {
            Assert.Contains(derivative.ParentKey, Parents);
            Assert.Contains(derivative.KindKey, Kinds);
            Assert.True(derivative.ColourKey is null || colours.Contains(derivative.ColourKey), derivative.Key);
        });
        Assert.All(Table.Constants, constant => Assert.Contains(constant.ParentKey, Parents));
        Assert.All(Table.SpotTests, test => Assert.Contains(test.QuestionKey, questions));
        Assert.All(Table.Responses, response => Assert.Contains(response.TestKey, tests));
        Assert.All(Table.ColourExpectations, expectation => Assert.Contains(expectation.KindKey, Kinds));
    }

    [Fact]
    public void NothingIsLeftWithoutUse()
    {
        Assert.Empty(Parents.Keys.Except(Table.Derivatives.Select(derivative => derivative.ParentKey)));
        Assert.Empty(Kinds.Keys.Except(Table.Derivatives.Select(derivative => derivative.KindKey)));
        Assert.Empty(Table.SpotTests.Select(test => test.Key).Except(Table.Responses.Select(response => response.TestKey)));
        Assert.Empty(Table.Questions.Select(question => question.Key)
            .Except(Table.SpotTests.Select(test => test.QuestionKey)));
    }

    private static string Fingerprint(string smiles) => StructureFingerprint.Of(SmilesReader.Read(smiles).Molecule!);

    private static IEnumerable<string> Repeated(IEnumerable<string> texts) => texts
        .GroupBy(text => text, StringComparer.OrdinalIgnoreCase)
        .Where(group => group.Count() > 1)
        .Select(group => group.Key);

    private static void AssertKeys(IEnumerable<string> keys)
    {
        var list = keys.ToList();
        Assert.All(list, key => Assert.Matches(Key(), key));
        Assert.Equal(list.Distinct().Order(StringComparer.Ordinal), list);
    }

    [GeneratedRegex(@"\A[A-Za-z0-9]+(-[A-Za-z0-9]+)*\z")]
    private static partial Regex Key();
}
