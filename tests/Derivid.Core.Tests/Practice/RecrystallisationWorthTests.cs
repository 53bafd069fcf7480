using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Practice;
using Derivid.Core.Ranking;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Practice;

/// <summary>Another recrystallisation is weighed as next steps are: by what it tells a minute.</summary>
public sealed class RecrystallisationWorthTests
{
    [Theory]
    [InlineData(108, 120, Preparation.Crude)]
    [InlineData(125, 126, Preparation.Recrystallised)]
    [InlineData(118, 120, Preparation.Unstated)]
    public void ItIsWorthItExactlyWhereTheRankingPutsItFirst(double onset, double clear, Preparation preparation)
    {
        var identification = Identify(new DerivativeReading(TestTable.Dnph, new MeltingRange(onset, clear), preparation));
        var worth = RecrystallisationWorth.Of(identification, Observation.DefaultHazardMinutes, TestTable.Dnph);

        Assert.Equal(identification.NextSteps[0].Kind == NextStepKind.Recrystallisation, worth.IsWorthIt);
        Assert.StartsWith(worth.IsWorthIt ? "Yes" : "No", worth.Sentence, StringComparison.Ordinal);
        Assert.Equal(worth.Recrystallisation?.Rate(Observation.DefaultHazardMinutes), worth.PerMinute);
        Assert.NotNull(worth.BestOther);
        Assert.Contains(worth.BestOther.Name, worth.Sentence, StringComparison.Ordinal);
        Assert.Contains("nats a minute", worth.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void RatesPutStepsInTheOrderTheRankingDoes()
    {
        var steps = Identify(new DerivativeReading(TestTable.Dnph, new MeltingRange(108, 120), Preparation.Crude)).NextSteps;
        var rates = steps.Select(step => step.Rate(Observation.DefaultHazardMinutes)).ToList();

        Assert.True(rates.Count > 2);
        Assert.Equal(rates.OrderDescending(), rates);
    }

    [Fact]
    public void NothingMeltedIsNothingToRecrystallise()
    {
        var worth = RecrystallisationWorth.Of(Identify(), Observation.DefaultHazardMinutes, null);

        Assert.False(worth.IsWorthIt);
        Assert.Null(worth.PerMinute);
        Assert.Contains("no derivative that was melted", worth.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void CrystalsOfAnotherKindAreAskedAfterByTheirKind()
    {
        var identification = Identify(new DerivativeReading(TestTable.Dnph, new MeltingRange(108, 120), Preparation.Crude));

        Assert.NotNull(RecrystallisationWorth.Of(identification, 10, null).Recrystallisation);
        Assert.Null(RecrystallisationWorth.Of(identification, 10, TestTable.Semicarbazone).Recrystallisation);
    }

    private static Identification Identify(params DerivativeReading[] derivatives) =>
        new IdentificationEngine(TestTable.Five()).Identify(new Observation { Derivatives = derivatives });
}
