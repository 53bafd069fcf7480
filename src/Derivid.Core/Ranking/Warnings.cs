using Derivid.Core.Observations;
using Derivid.Core.Ranking.Likelihoods;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Ranking;

/// <summary>Contradictions and weaknesses of an observation, seen beside its leading candidate.</summary>
internal sealed class Warnings(WeighedObservation weighed, int leader)
{
    /// <summary>A range wider than this wants recrystallising. Units: °C. Source: customary 2 to 3 °C of class hand-outs.</summary>
    private const double WideSpanCelsius = 3;

    /// <summary>A reading this near the reagent's melting point may be the reagent. Units: °C. Chosen.</summary>
    private const double NearReagentCelsius = 4;

    /// <summary>Evidence this much against the leader is worth a line: e to the 2 is about 7 to 1. Chosen.</summary>
    private const double AgainstLogRatio = -2;

    public List<string> List()
    {
        var warnings = new List<string>();
        AddReadings(warnings);
        AddPrecipitates(warnings);
        foreach (var reading in weighed.SetAside)
        {
            warnings.Add(
                $"A second reading of the {weighed.Snapshot.Kind(reading.KindKey).Kind.Name} carries no weight: of one kind the recrystallised, else the sharpest, reading counts.");
        }

        AddContradictions(warnings);
        return warnings;
    }

    private void AddReadings(List<string> warnings)
    {
        foreach (var reading in weighed.Readings.Where(r => r.Kind == EvidenceKind.DerivativeMeltingRange))
        {
            var kind = weighed.Snapshot.Kind(reading.Subject!).Kind;
            if (reading.AsUsed.SpanCelsius > WideSpanCelsius)
            {
                warnings.Add(
                    $"The {kind.Name} melted over {CelsiusText.Number(reading.AsUsed.SpanCelsius)} °C: recrystallise it and melt it again; an impure sample melts low and wide.");
            }

            if (kind.ReagentMeltingCelsius is { } reagent
                && Math.Abs(reading.AsUsed.ClearPointCelsius - reagent) <= NearReagentCelsius)
            {
                warnings.Add(
                    $"{kind.ReagentName} itself melts near {CelsiusText.Number(reagent)} °C: make sure the crystals are not unreacted reagent.");
            }

            if (reading.AsUsed.Decomposes)
            {
                warnings.Add(
                    $"The {kind.Name} melted with decomposition, so its range depends on the rate of heating and is weighed more loosely.");
            }
        }
    }

    private void AddPrecipitates(List<string> warnings)
    {
        foreach (var likelihoods in weighed.Likelihoods.OfType<PrecipitateLikelihoods>())
        {
            var kind = weighed.Snapshot.Kind(likelihoods.Subject!).Kind;
            if (likelihoods.Came == Precipitate.None)
            {
                warnings.Add(
                    $"Nothing came with {kind.ReagentName}: try the reagent on a known aldehyde or ketone, check its acid or buffer, leave the mixture longer, then cool it in ice and scratch the glass, before taking it for a fact.");
            }
            else if (likelihoods.Came == Precipitate.Oil)
            {
                warnings.Add(
                    $"The {kind.Name} came as an oil: cool it in ice and scratch the glass, stir it with a little cold solvent, or dissolve it and let it come again slowly; crystals tell far more.");
            }
        }

        warnings.AddRange(weighed.FailedDespiteTest.Select(kind =>
            $"The test with {kind.Kind.ReagentName} was positive though no {kind.Kind.Name} came: only the test is weighed; repeat both."));
        warnings.AddRange(weighed.Observation.SpotTests
            .Where(reading => reading.Outcome == SpotTestOutcome.Negative && weighed.IsRepeated(reading.TestKey))
            .Select(reading => weighed.Snapshot.SpotTests.Row(reading.TestKey).Test.Name)
            .Distinct(StringComparer.Ordinal)
            .Select(test => $"The {test} carries no weight of its own: that its reagent gave no crystals is weighed once."));
    }

    private void AddContradictions(List<string> warnings)
    {
        foreach (var likelihoods in weighed.Likelihoods.Where(each => each.LogRatio(leader) < AgainstLogRatio))
        {
            warnings.Add($"This speaks against the leading candidate: {likelihoods.Weigh(leader).Sentence}");
        }

        foreach (var likelihoods in weighed.Likelihoods.OfType<SpotTestLikelihoods>().Where(each => each.IsContradictory(leader)))
        {
            var tests = string.Join(", ", likelihoods.Tests.Select(test => test.Name));
            warnings.Add(
                $"Tests that ask one question disagree ({tests}): repeat them on a fresh sample with a known positive and a known negative beside it.");
        }
    }
}
