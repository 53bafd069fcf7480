using Derivid.Core.SpotTests;
using Derivid.Core.Structures;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests;

/// <summary>Spot-test responses and colour expectations.</summary>
public sealed class ExpectationTests
{
    private const string SingleParent = "parent:";

    [Fact]
    public void EveryClassIsOneTheCodeKnows()
    {
        Assert.All(Table.Responses, response => Assert.True(
            response.AppliesTo.StartsWith(SingleParent, StringComparison.Ordinal)
                ? Parents.ContainsKey(response.AppliesTo[SingleParent.Length..])
                : StructureClass.TryParse(response.AppliesTo, out _, out _),
            $"{response.TestKey} {response.AppliesTo}"));
        Assert.All(Table.ColourExpectations, expectation =>
            Assert.True(StructureClass.TryParse(expectation.StructureClass, out _, out _), expectation.StructureClass));
    }

    [Fact]
    public void OrdersRunFromOneAndEndInAny()
    {
        Assert.All(Table.Responses.GroupBy(response => response.TestKey), group =>
        {
            Assert.Equal(Enumerable.Range(1, group.Count()), group.Select(response => response.Order));
            Assert.Equal("any", group.Last().AppliesTo);
        });
        Assert.All(Table.ColourExpectations.GroupBy(expectation => expectation.KindKey), group =>
        {
            Assert.Equal(Enumerable.Range(1, group.Count()), group.Select(expectation => expectation.Order));
            Assert.Equal("any", group.Last().StructureClass);
        });
    }

    [Fact]
    public void EveryKindWhoseColourInformsHasExpectations() =>
        Assert.Equal(
            Table.Kinds.Where(kind => kind.ColourInforms).Select(kind => kind.Key),
            Table.ColourExpectations.Select(expectation => expectation.KindKey).Distinct());

    [Fact]
    public void RatesAreProbabilitiesShortOfCertainty()
    {
        Assert.All(Table.Responses, response => Assert.InRange(response.PositiveRate, 0.02, 0.98));
        Assert.All(Table.Questions, question => Assert.InRange(question.ContraryRate, 0.001, 0.2));
        Assert.All(Table.SpotTests, test =>
        {
            Assert.InRange(test.PositiveRateIfYes, 0.5, 0.98);
            Assert.InRange(test.PositiveRateIfNo, 0.02, 0.5);
        });
    }

    [Fact]
    public void ColourWeightsSumToOneAndRuleNothingOut() =>
        Assert.All(Table.ColourExpectations, expectation =>
        {
            Assert.Equal(Table.Colours.Count(colour => colour.Rank is not null), expectation.Weights.Count);
            Assert.Equal(1, expectation.Weights.Sum(), 1e-12);
            Assert.All(expectation.Weights, weight => Assert.InRange(weight, 0.02, 1));
        });

    [Fact]
    public void ParentAnswersAQuestionAlikeInEveryTestOfTheFamily() =>
        Assert.All(Table.Parents, parent =>
        {
            var answers = Table.SpotTests.Select(test => (test.QuestionKey, Response(test.Key, parent.Key).AnswersYes));
            Assert.All(
                answers.GroupBy(answer => answer.QuestionKey),
                family => Assert.True(
                    family.Select(answer => answer.AnswersYes).Distinct().Count() == 1,
                    $"{parent.Key} {family.Key}"));
        });

    [Theory]
    [InlineData("propanone", "iodoform", true)]
    [InlineData("propanone", "tollens", false)]
    [InlineData("benzaldehyde", "tollens", true)]
    [InlineData("benzaldehyde", "fehling", false)]
    [InlineData("butanal", "fehling", true)]
    [InlineData("acetaldehyde", "iodoform", true)]
    [InlineData("pentan-3-one", "iodoform", false)]
    [InlineData("pentan-3-one", "bisulfite", false)]
    [InlineData("benzophenone", "bisulfite", false)]
    [InlineData("2-hydroxybenzaldehyde", "ferric-chloride", true)]
    [InlineData("cinnamaldehyde", "permanganate", true)]
    [InlineData("4-chlorobenzaldehyde", "beilstein", true)]
    [InlineData("4-fluorobenzaldehyde", "beilstein", false)]
    [InlineData("3-hydroxybutan-2-one", "tollens", true)]
    public void CleanSampleMostlyAnswersAsTheBenchKnows(string parentKey, string testKey, bool isPositive) =>
        Assert.Equal(isPositive, Response(testKey, parentKey).PositiveRate > 0.5);

    private static SpotTestResponse Response(string testKey, string parentKey)
    {
        var features = CarbonylEnvironment.Of(SmilesReader.Read(Parents[parentKey].Smiles).Molecule!).Features;
        return Table.Responses.First(response => response.TestKey == testKey
            && (response.AppliesTo.StartsWith(SingleParent, StringComparison.Ordinal)
                ? response.AppliesTo[SingleParent.Length..] == parentKey
                : StructureClass.Parse(response.AppliesTo).Matches(features)));
    }
}
