using CsCheck;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Observations;

/// <summary>Which of several readings of one derivative counts.</summary>
public sealed class MostCarefulFirstTests
{
    private static readonly DerivativeReading[] InOrder =
    [
        Read(120, 124, Preparation.Recrystallised),
        Read(118, 124, Preparation.Recrystallised),
        Read(119, 125, Preparation.Recrystallised),
        Read(123, 124, Preparation.Unstated),
        Read(116, 124, Preparation.Unstated),
        Read(124, 124.5, Preparation.Crude),
        Read(115, 124, Preparation.Crude),
        new(TestTable.Dnph, null, Preparation.Recrystallised, Precipitate: Precipitate.Oil),
    ];

    [Fact]
    public void RecrystallisedComesBeforeUnstatedBeforeCrudeAndSharperBeforeWiderWithinThem() =>
        Gen.Shuffle(InOrder).Sample(shuffled => Assert.Equal(InOrder, shuffled.Order(MostCarefulFirst.Order)));

    [Fact]
    public void SharpCrudeReadingGivesWayToAWideOneOfUnstatedPreparation()
    {
        var engine = new IdentificationEngine(TestTable.Five());
        var unstated = Read(121, 126, Preparation.Unstated);

        var answer = engine.Identify(new Observation { Derivatives = [Read(154, 155, Preparation.Crude), unstated] });

        Assert.Equal(126, Assert.Single(answer.Readings).AsRead.ClearPointCelsius);
        Assert.Equal(
            engine.Identify(new Observation { Derivatives = [unstated] }).Candidates[0].Posterior,
            answer.Candidates[0].Posterior);
    }

    [Fact]
    public void ColourOfTheLessCarefulReadingStandsInForAMissingOne()
    {
        var engine = new IdentificationEngine(TestTable.Five());
        var sharp = Read(125, 126, Preparation.Recrystallised);
        var crude = Read(119, 124, Preparation.Crude) with { ColourKey = "red" };

        Assert.Equal(
            engine.Weigh(new Observation { Derivatives = [sharp with { ColourKey = "red" }] }).Probability,
            engine.Weigh(new Observation { Derivatives = [crude, sharp] }).Probability);
    }

    private static DerivativeReading Read(double onset, double clearPoint, Preparation preparation) =>
        new(TestTable.Dnph, new MeltingRange(onset, clearPoint), preparation);
}
