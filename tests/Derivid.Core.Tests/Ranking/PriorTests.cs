using Derivid.Core.Compounds;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Tests.Ranking;

/// <summary>What is believed before any evidence.</summary>
public sealed class PriorTests
{
    private static readonly TableSnapshot Snapshot = Build();

    [Fact]
    public void CommonCompoundsWeighAsTheSettingsSayUnlessAskedOtherwise()
    {
        // Weights 4, 2 and 1; nobody judged pentan-3-one and benzaldehyde, which count as usual; nine tenths in all.
        Assert.Equal(
            [("acetophenone", 1.8 / 11), ("benzaldehyde", 1.8 / 11), ("pentan-3-one", 1.8 / 11), ("pinacolone", 0.9 / 11),
                ("propanone", 3.6 / 11)],
            Priors(PriorChoice.ByCommonness),
            (expected, prior) => expected.Item1 == prior.Item1 && Math.Abs(expected.Item2 - prior.Item2) < 1e-12);
        Assert.All(Priors(new() { IsUniform = true }), of => Assert.Equal(0.18, of.Prior, 1e-12));
    }

    [Fact]
    public void ShelfListTakesThePlaceOfCommonness()
    {
        var shelf = new PriorChoice
        {
            Weights = new Dictionary<string, double> { ["propanone"] = 1, ["pinacolone"] = 1 },
        };

        Assert.Equal([("pinacolone", 0.45), ("propanone", 0.45)], Priors(shelf));
        Assert.Equal(
            "How common: an everyday compound (counted); not counted, since it was said what may have been handed out.",
            HowCommon(shelf));
    }

    [Fact]
    public void EveryCandidateSaysWhatItsCommonnessCountedFor()
    {
        Assert.Equal(
            "How common: an everyday compound (counted); counted 4 to 1 against a rare one.", HowCommon(PriorChoice.ByCommonness));
        Assert.Equal("How common: an everyday compound (counted); not counted, as asked.", HowCommon(new() { IsUniform = true }));
    }

    [Fact]
    public void WeightIsToldAgainstThatOfARareOne()
    {
        var engine = new IdentificationEngine(TableSnapshot.Build(
            Snapshot.Table,
            TestTable.Settings with { Commonness = new CommonnessSettings { EverydayWeight = 9, UsualWeight = 5, RareWeight = 2 } }));
        var candidates = engine.Identify(new Observation(), 5).Candidates;
        string Of(string parent) => candidates.Single(candidate => candidate.Parent.Key == parent).HowCommon;

        Assert.Equal("How common: an everyday compound (counted); counted 4.5 to 1 against a rare one.", Of("propanone"));
        Assert.Equal("How common: a usual compound; counted 2.5 to 1 against a rare one.", Of("acetophenone"));
        Assert.Equal("How common: not judged; counted 2.5 to 1 against a rare one.", Of("benzaldehyde"));
        Assert.Equal("How common: a rare compound; counted least.", Of("pinacolone"));
    }

    [Fact]
    public void EvidenceIsNotTouchedByIt()
    {
        var melted = new Observation { Derivatives = [Observed.Dnph(125, 126)] };
        var engine = new IdentificationEngine(Snapshot);

        Assert.Equal(
            engine.Weigh(melted with { Prior = new() { IsUniform = true } }).LogLikelihoodRatio, engine.Weigh(melted).LogLikelihoodRatio);
    }

    private static IEnumerable<(string Key, double Prior)> Priors(PriorChoice prior) =>
        new IdentificationEngine(Snapshot).Identify(new Observation { Prior = prior }, 5).Candidates
            .OrderBy(candidate => candidate.Parent.Key, StringComparer.Ordinal)
            .Select(candidate => (candidate.Parent.Key, candidate.Prior));

    private static string HowCommon(PriorChoice prior) =>
        new IdentificationEngine(Snapshot).Identify(new Observation { Prior = prior }, 5).Candidates
            .Single(candidate => candidate.Parent.Key == "propanone").HowCommon;

    private static TableSnapshot Build()
    {
        var table = TestTable.Five().Table;
        return TableSnapshot.Build(
            table with
            {
                Parents = [.. table.Parents.Select(parent => parent.Key switch
                {
                    "propanone" => parent with { Commonness = Commonness.Everyday, CommonnessBasis = "counted" },
                    "acetophenone" => parent with { Commonness = Commonness.Usual },
                    "pinacolone" => parent with { Commonness = Commonness.Rare },
                    _ => parent,
                })],
            },
            TestTable.Settings);
    }
}
