using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Derivid.Store.Seeding;

namespace Derivid.SeedTables.Tests.Identification;

/// <summary>Readings as they come off the bench, against the whole seed table and the shipped settings.</summary>
public sealed class BenchReadingsTests
{
    private const string Dnph = "2-4-dinitrophenylhydrazone";

    private static readonly IdentificationEngine Engine = new(TableSnapshot.Build(
        Store.Seeding.SeedTables.Load(), ModelSettingsReader.BuiltIn()));

    private static readonly Observation YellowMethylKetone = new()
    {
        Derivatives = [Melted(Dnph, 125, 127, "yellow")],
        SpotTests = [new("iodoform", SpotTestOutcome.Positive), new("tollens", SpotTestOutcome.Negative)],
    };

    [Fact]
    public void PropanoneCannotBeToldFromItsNeighboursByOneDerivative()
    {
        var answer = Engine.Identify(YellowMethylKetone);

        var leading = answer.Groups[0];
        Assert.Contains("propanone", leading.ParentKeys);
        Assert.Contains("3-3-dimethylbutan-2-one", leading.ParentKeys);
        Assert.Contains(answer.Candidates[0].Parent.Key, leading.ParentKeys);
        Assert.Contains("cannot be told apart on this evidence", leading.Sentence, StringComparison.Ordinal);
        Assert.Equal("semicarbazone", leading.SeparatedBy?.Key);
        Assert.Contains(leading.Sentence, answer.Summary, StringComparison.Ordinal);
    }

    [Fact]
    public void BoilingPointSettlesPropanone()
    {
        var answer = Engine.Identify(YellowMethylKetone with
        {
            BoilingPoint = new BoilingPointReading(new MeltingRange(55, 57)),
        });

        Assert.Equal("propanone", answer.Candidates[0].Parent.Key);
        Assert.True(answer.Candidates[0].Posterior > 0.8);
    }

    [Fact]
    public void SemicarbazoneSettlesPropanone()
    {
        var answer = Engine.Identify(YellowMethylKetone with
        {
            Derivatives = [.. YellowMethylKetone.Derivatives, Melted("semicarbazone", 187, 189)],
        });

        Assert.Equal("propanone", answer.Candidates[0].Parent.Key);
        Assert.True(answer.Candidates[0].Posterior > 0.8);
    }

    [Fact]
    public void TollensAndFehlingPutBenzaldehydeFirst()
    {
        var answer = Engine.Identify(new Observation
        {
            Derivatives = [Melted(Dnph, 237, 238, "orange-red")],
            SpotTests = [new("tollens", SpotTestOutcome.Positive), new("fehling", SpotTestOutcome.Negative)],
        });

        Assert.Equal("benzaldehyde", answer.Candidates[0].Parent.Key);
    }

    [Fact]
    public void WithoutTheTestsAcetophenoneStaysInPlay()
    {
        var answer = Engine.Identify(new Observation { Derivatives = [Melted(Dnph, 237, 238, "orange-red")] });

        Assert.Contains("benzaldehyde", answer.Groups[0].ParentKeys);
        Assert.Contains("acetophenone", answer.Groups[0].ParentKeys);
    }

    [Fact]
    public void ReadingBelowEverythingListedIsNoneOfThese()
    {
        var answer = Engine.Identify(new Observation { Derivatives = [Melted(Dnph, 29, 31, "yellow")] });

        Assert.True(answer.NoneOfThese.Posterior > answer.Candidates[0].Posterior);
    }

    [Fact]
    public void WideCrudeRangeKeepsPropanoneWhereANarrowWindowLosesIt()
    {
        var answer = Engine.Identify(new Observation
        {
            Derivatives = [new DerivativeReading(Dnph, new MeltingRange(117, 124), Preparation.Crude)],
            WindowCelsius = 2,
        });

        var propanone = answer.Candidates.Single(candidate => candidate.Parent.Key == "propanone");
        Assert.Contains("propanone", answer.Groups[0].ParentKeys);
        Assert.False(propanone.Windows[0].IsWholeRangeInside);
    }

    private static DerivativeReading Melted(string kind, double onset, double clearPoint, string? colour = null) =>
        new(kind, new MeltingRange(onset, clearPoint), ColourKey: colour);
}
