using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Derivid.Core.Teaching.Grading;
using Derivid.Store.Seeding;

namespace Derivid.SeedTables.Tests.Identification;

/// <summary>What a grade calls inseparable is what the ranking of the same observation calls so.</summary>
public sealed class GroupTests
{
    private const int LargestGroup = 20;

    private static readonly TableSnapshot Snapshot = TableSnapshot.Build(
        Store.Seeding.SeedTables.Load(), ModelSettingsReader.BuiltIn());

    private static readonly IdentificationEngine Engine = new(Snapshot);

    private static readonly Rubric Rubric = new()
    {
        Name = "pairs",
        RightCompound = new RightCompound { Points = 1, GroupShare = 0.5, LargestGroup = LargestGroup },
    };

    [Fact]
    public void GradeAndRankingAgreeOnEveryPair()
    {
        var (together, apart) = (0, 0);
        foreach (var observation in Observations())
        {
            var answer = Engine.Identify(observation, Snapshot.Parents.Count);
            var ranked = answer.Candidates.Take(12).Select(candidate => candidate.Parent.Key).ToList();
            foreach (var (handedOut, claimed) in ranked.SelectMany(one => ranked.Select(other => (one, other))))
            {
                if (handedOut == claimed)
                {
                    continue;
                }

                var group = answer.Groups.SingleOrDefault(group => group.ParentKeys.Contains(handedOut));
                var isTogether = group is { ParentKeys.Count: <= LargestGroup } && group.ParentKeys.Contains(claimed);
                Assert.Equal(isTogether ? 0.5m : 0, PointsFor(observation, handedOut, claimed));
                _ = isTogether ? together++ : apart++;
            }
        }

        Assert.True(together > 500 && apart > 500, $"{together} together, {apart} apart");
    }

    [Fact]
    public void GroupsPartTheCandidatesThatCount()
    {
        foreach (var view in Observations().Select(Engine.Weigh))
        {
            var grouped = view.Groups.All.SelectMany(group => group).ToList();

            Assert.Equal(
                view.Order.Where(parent => view.Probability[parent] >= CandidateGroups.LeastProbability).Order(), grouped.Order());
            Assert.All(view.Groups.All, group => Assert.All(group, parent => Assert.Same(group, view.Groups.Of(parent))));
            Assert.All(view.Groups.All, group => Assert.All(group, parent => Assert.True(
                Math.Abs(view.LogLikelihoodRatio[group[0]] - view.LogLikelihoodRatio[parent]) < Snapshot.Settings.GroupLogRatio)));
        }
    }

    [Fact]
    public void WithoutAnythingToWeighNothingIsGrouped()
    {
        Observation[] untold =
        [
            new(),
            new() { Derivatives = [new("oxime", null, Precipitate: Precipitate.Crystals)] },
            new() { SpotTests = [new("tollens", SpotTestOutcome.Doubtful)] },
        ];

        Assert.All(untold, observation => Assert.Empty(Engine.Weigh(observation).Groups.All));
        Assert.All(untold, observation => Assert.Empty(Engine.Identify(observation).Groups));
        Assert.All(untold, observation => Assert.Equal(0, PointsFor(observation, "propanone", "3-3-dimethylbutan-2-one")));
    }

    private static decimal PointsFor(Observation observation, string handedOut, string claimed)
    {
        var grade = Grader.Grade(
            new Report { Observation = observation, ClaimedParentKey = claimed }, new Unknown(handedOut, []), Rubric, Snapshot);
        return grade.Lines.Single(line => line.Criterion == CriterionKind.RightCompound).Points;
    }

    /// <summary>One derivative, two, one with a test, and a failed one, of compounds from all over the table.</summary>
    private static IEnumerable<Observation> Observations()
    {
        foreach (var rows in Snapshot.Table.Derivatives.Chunk(41))
        {
            var first = Melted(rows[0].KindKey, rows[0].LowCelsius, rows[0].HighCelsius);
            var second = rows.FirstOrDefault(row => row.ParentKey == rows[0].ParentKey && row.KindKey != rows[0].KindKey);
            yield return new Observation { Derivatives = [first] };
            yield return new Observation
            {
                Derivatives = second is null ? [first] : [first, Melted(second.KindKey, second.LowCelsius, second.HighCelsius)],
                SpotTests = [new("iodoform", SpotTestOutcome.Positive), new("tollens", SpotTestOutcome.Negative)],
            };
        }

        yield return new Observation { Derivatives = [new("2-4-dinitrophenylhydrazone", null, Precipitate: Precipitate.None)] };
    }

    private static DerivativeReading Melted(string kind, double low, double high) =>
        new(kind, new MeltingRange(low - 1.5, high - 0.5), Preparation.Recrystallised);
}
