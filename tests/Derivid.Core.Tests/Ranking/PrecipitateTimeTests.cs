using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Tests.Ranking;

/// <summary>How soon crystals came, as evidence.</summary>
public sealed class PrecipitateTimeTests
{
    private static readonly TableSnapshot Eight = TestTable.Snapshot(
        ("propanone", "CC(C)=O", [126], [188]),
        ("hindered", "CC(C)C(=O)C(C)C", [95], [160]),
        ("tertiary", "CC(=O)C(C)(C)C", [125], [157]),
        ("diketone", "CC(=O)CC(C)=O", [], [122]),
        ("aryl", "CC(=O)c1ccccc1", [240], [199]),
        ("aldehyde", "O=Cc1ccccc1", [237], [222]),
        ("cyclic", "O=C1CCCCC1", [162], [166]),
        ("keto-aldehyde", "CC(=O)c1ccc(C=O)cc1", [], []));

    private static readonly IdentificationEngine Engine = new(Eight);

    [Theory]
    [InlineData(PrecipitateTime.Seconds, 0.55 / 0.2)]
    [InlineData(PrecipitateTime.Minutes, 0.35 / 0.45)]
    [InlineData(PrecipitateTime.Hours, 0.1 / 0.35)]
    public void OddsOfPromptAndSlowAreThoseOfTheSettings(PrecipitateTime time, double odds)
    {
        var view = Engine.Weigh(Timed(TestTable.Semicarbazone, time));

        foreach (var prompt in new[] { "propanone", "aldehyde", "cyclic", "keto-aldehyde" })
        {
            Assert.Equal(odds, Math.Exp(Ratio(view, prompt) - Ratio(view, "hindered")), 1e-9);
            Assert.Equal(odds, Math.Exp(Ratio(view, prompt) - Ratio(view, "aryl")), 1e-9);
            Assert.Equal(odds, Math.Exp(Ratio(view, prompt) - Ratio(view, "tertiary")), 1e-9);
        }
    }

    [Fact]
    public void OneThatMayCloseToARingIsNeitherRaisedNorLowered() =>
        Assert.Equal(0, Ratio(Engine.Weigh(Timed(TestTable.Semicarbazone, PrecipitateTime.Hours)), "diketone"), 1e-12);

    [Fact]
    public void NoTimePartsTwoClassesByMoreThanAFactorOfFour()
    {
        var settings = TestTable.Settings.PrecipitateTime;

        Assert.All(Enum.GetValues<PrecipitateTime>(), time =>
            Assert.InRange(settings.Of(time, isSlow: false) / settings.Of(time, isSlow: true), 0.25, 4));
        Assert.Equal(1, Enum.GetValues<PrecipitateTime>().Sum(time => settings.Of(time, isSlow: true)), 1e-12);
        Assert.Equal(1, Enum.GetValues<PrecipitateTime>().Sum(time => settings.Of(time, isSlow: false)), 1e-12);
    }

    [Fact]
    public void TimeOfAKindOfWhichNothingIsKnownCarriesNoWeightAndTheAnswerSaysSo()
    {
        var answer = Engine.Identify(Timed(TestTable.Dnph, PrecipitateTime.Hours));

        Assert.All(answer.Candidates, candidate => Assert.Empty(candidate.Evidence));
        Assert.Contains(answer.Warnings, warning =>
            warning.StartsWith($"How soon the {TestTable.Dnph} came carries no weight", StringComparison.Ordinal));
    }

    [Fact]
    public void CrystalsStillCarryNoWeightOfTheirOwn()
    {
        var melted = new Observation { Derivatives = [Observed.Semicarbazone(187, 188)] };
        var timed = new Observation { Derivatives = [Observed.Semicarbazone(187, 188) with { Time = PrecipitateTime.Minutes }] };
        var answer = Engine.Identify(timed);

        Assert.DoesNotContain(answer.Candidates.SelectMany(each => each.Evidence), each => each.Kind == EvidenceKind.Precipitate);
        Assert.Equal(
            Ratio(Engine.Weigh(melted), "propanone") - Ratio(Engine.Weigh(melted), "cyclic"),
            Ratio(Engine.Weigh(timed), "propanone") - Ratio(Engine.Weigh(timed), "cyclic"),
            1e-12);
    }

    [Fact]
    public void OfSeveralMixingsTheQuickestCountsInWhateverOrder()
    {
        DerivativeReading late = new(TestTable.Semicarbazone, null, Time: PrecipitateTime.Hours);
        var soon = late with { Time = PrecipitateTime.Seconds };
        var one = Engine.Weigh(new Observation { Derivatives = [late, soon] });

        Assert.Equal(one.Probability, Engine.Weigh(new Observation { Derivatives = [soon, late] }).Probability);
        Assert.Equal(one.Probability, Engine.Weigh(new Observation { Derivatives = [soon] }).Probability);
    }

    [Theory]
    [InlineData("hindered", PrecipitateTime.Hours, "Crystals of the semicarbazone came only after hours: not unusual for hindered, a slow one: a hindered or aromatic ketone or a long chain.")]
    [InlineData("propanone", PrecipitateTime.Hours, "Crystals of the semicarbazone came only after hours: unusual for propanone, neither a hindered nor an aromatic ketone nor a long chain.")]
    [InlineData("propanone", PrecipitateTime.Seconds, "Crystals of the semicarbazone came within seconds: usual for propanone, neither a hindered nor an aromatic ketone nor a long chain.")]
    [InlineData("diketone", PrecipitateTime.Minutes, "Crystals of the semicarbazone came within minutes; how soon diketone would give some is not known.")]
    public void SentenceSaysWhetherItIsUsual(string parent, PrecipitateTime time, string sentence) =>
        Assert.StartsWith(
            sentence,
            Engine.Identify(Timed(TestTable.Semicarbazone, time)).Candidates
                .Single(candidate => candidate.Parent.Key == parent)
                .Evidence.Single(evidence => evidence.Kind == EvidenceKind.PrecipitateTime).Sentence,
            StringComparison.Ordinal);

    private static Observation Timed(string kind, PrecipitateTime time) => new() { Derivatives = [new(kind, null, Time: time)] };

    private static double Ratio(PosteriorView view, string parent) => view.LogRatioOf(Eight, parent);
}
