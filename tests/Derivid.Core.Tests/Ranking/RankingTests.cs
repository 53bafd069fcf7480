using CsCheck;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Tests.Ranking;

/// <summary>A ranking without reasons is the identification's.</summary>
public sealed class RankingTests
{
    private static readonly IdentificationEngine Engine = new(TestTable.Five());

    [Fact]
    public void RankingIsThatOfTheIdentificationToTheLastBit() =>
        Gen.Select(Gen.Double[20, 340], Gen.Double[0, 6], Gen.Int[0, 6], Gen.Bool, Gen.Double[0, 0.9]).Sample((celsius, span, most, isUniform, none) =>
        {
            var observation = new Observation
            {
                Derivatives = [Observed.Dnph(celsius, celsius + span, Preparation.Crude, "yellow")],
                Prior = new PriorChoice { IsUniform = isUniform, NoneOfThese = none },
            };
            var whole = Engine.Identify(observation, most + 1);

            var ranking = Engine.Rank(observation, most + 1);

            Assert.Equal((whole.TableVersion, whole.ModelVersion, whole.CandidatesConsidered), (ranking.TableVersion, ranking.ModelVersion, ranking.CandidatesConsidered));
            Assert.Equal(whole.Candidates.Select(candidate => (candidate.Parent, candidate.Posterior)), ranking.Candidates);
            Assert.Equal((whole.NoneOfThese.Posterior, whole.NoneOfThese.Leads), (ranking.NonePosterior, ranking.NoneLeads));
            Assert.Equal(whole.Groups.Select(group => group.Posterior), ranking.Groups.Select(group => group.Posterior));
            Assert.Equal(whole.Groups.Select(group => group.ParentKeys), ranking.Groups.Select(group => group.Parents.Select(parent => parent.Key)));
        });

    [Fact]
    public void NothingObservedMakesNoGroupAndNoLeader()
    {
        var ranking = Engine.Rank(new Observation());

        Assert.Empty(ranking.Groups);
        Assert.False(ranking.NoneLeads);
    }

    [Fact]
    public void NoCandidatesAtAllIsRefused() => Assert.Throws<ArgumentOutOfRangeException>(() => Engine.Rank(new Observation(), 0));
}
