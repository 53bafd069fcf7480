using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking.Likelihoods;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Ranking;

/// <summary>Contradictions and weaknesses of an observation, seen beside its leading candidate.</summary>
/// <param name="weighed">The observation.</param>
/// <param name="leading">The leading candidates, most probable first. Shape: at least one.</param>
internal sealed class Warnings(WeighedObservation weighed, IReadOnlyList<int> leading)
{
    /// <summary>Evidence this much for a compound points at it: e times as likely as at random. Chosen.</summary>
    private const double ForLogRatio = 1;

    /// <summary>A range wider than this wants recrystallising. Units: °C. Source: customary 2 to 3 °C of class hand-outs.</summary>
    private const double WideSpanCelsius = 3;

    /// <summary>A reading this near the reagent's melting point may be the reagent. Units: °C. Chosen.</summary>
    private const double NearReagentCelsius = 4;

    /// <summary>A range no wider than this is sharp. Units: °C. Source: customary 2 °C of class hand-outs.</summary>
    private const double SharpSpanCelsius = 2;

    /// <summary>A clear point this near a listed value is as listed. Units: °C. Chosen, as for values that agree.</summary>
    private const double AsListedCelsius = 3;

    /// <summary>Below this a boiling point is one under reduced pressure. Units: kPa. Chosen.</summary>
    private const double ReducedKilopascals = 60;

    /// <summary>Further than this from every listed value a reading is worth a line. Units: °C. Chosen.</summary>
    private const double LonelyCelsius = 10;

    /// <summary>Further than this from a thermometer's standards they say little of a reading. Units: °C. Chosen.</summary>
    private const double FarFromStandardsCelsius = 40;

    /// <summary>Evidence this much against the leader is worth a line: e to the 2 is about 7 to 1. Chosen.</summary>
    private const double AgainstLogRatio = -2;

    private readonly int _leader = leading[0];

    public List<string> List()
    {
        var warnings = new List<string>();
        AddReadings(warnings);
        AddOutside(warnings);
        AddPressure(warnings);
        AddThermometer(warnings);
        AddColours(warnings);
        AddPrecipitates(warnings);
        AddMixtures(warnings);
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
                    $"The {kind.Name} melted over {Figure.Degrees(reading.AsUsed.SpanCelsius)} °C: recrystallise it and melt it again; an impure sample melts low and wide.");
            }

            AddByProducts(warnings, kind, reading);

            if (reading.AsUsed.Decomposes)
            {
                warnings.Add(
                    $"The {kind.Name} melted with decomposition, so its range depends on the rate of heating and is weighed more loosely.");
            }
        }
    }

    /// <summary>A calibration that says little of what was read: its standards melt far away, or were melted long ago.</summary>
    private void AddThermometer(List<string> warnings)
    {
        var thermometer = weighed.Observation.Thermometer;
        if (thermometer.IsOld)
        {
            warnings.Add(
                $"The thermometer was checked {thermometer.DaysSinceChecked} days ago, so it is trusted less: melt its standards again.");
        }

        foreach (var used in weighed.Readings.Select(reading => reading.AsUsed.ClearPointCelsius)
            .Where(used => thermometer.CheckAt(used) is { DistanceCelsius: > FarFromStandardsCelsius }))
        {
            warnings.Add(
                $"None of the thermometer's standards melts within {FarFromStandardsCelsius} °C of the {Figure.Degrees(used)} °C read, so the correction there is a guess: melt one that does.");
        }
    }

    /// <summary>What else may lie among the crystals: the reagent, its salt, what it gives by itself.</summary>
    private void AddByProducts(List<string> warnings, DerivativeKind kind, CorrectedReading reading)
    {
        var clearPoint = reading.AsUsed.ClearPointCelsius;
        if (IsGood(kind, reading))
        {
            return;
        }

        var substances = ByProduct.All
            .Where(product => product.KindKey == kind.Key && (product.ParentKey is null || IsLeading(product.ParentKey)))
            .Concat(OwnReagent(kind))
            .GroupBy(product => (
                Name: product.Role == ByProductRole.Reagent ? kind.ReagentName : product.Substance,
                product.Role));
        foreach (var substance in substances.Where(of => of.Any(product => product.MeltsNear(clearPoint, NearReagentCelsius))))
        {
            var melts = Figure.Range(substance.Min(product => product.LowCelsius), substance.Max(product => product.HighCelsius));
            var (name, role) = substance.Key;
            var named = $"{char.ToUpperInvariant(name[0])}{name[1..]}";
            warnings.Add(role == ByProductRole.Reagent
                ? $"{named} itself melts near {melts}: make sure the crystals are not unreacted reagent."
                : $"{named} melts near {melts}: make sure that the crystals are the {kind.Name} and not that.");
        }
    }

    private bool IsLeading(string parentKey) => weighed.Snapshot.TryFindParent(parentKey, out var parent) && leading.Contains(parent);

    /// <summary>The reagent as the kind itself lists it. Shape: one, or none where its melting point is not known.</summary>
    private static IEnumerable<ByProduct> OwnReagent(DerivativeKind kind) => kind.ReagentMeltingCelsius is { } melting
        ? [new ByProduct(
            kind.Key, kind.ReagentName, ByProductRole.Reagent, null, melting, melting, false, kind.SourceKey, null, Verification.Recalled, null)]
        : [];

    /// <summary>Sharp recrystallised crystals that melt as listed for the leader: nothing to suspect.</summary>
    private bool IsGood(DerivativeKind kind, CorrectedReading reading) =>
        reading.AsUsed is { SpanCelsius: <= SharpSpanCelsius, Decomposes: false }
        && weighed.Observation.Derivatives.Any(of =>
            of.KindKey == kind.Key && of.Range == reading.AsRead && of.Preparation == Preparation.Recrystallised)
        && weighed.Snapshot.Kind(kind.Key).Listed.Nearest(_leader, reading.AsUsed.ClearPointCelsius) is { } nearest
        && Math.Abs(ListedTemperatures.DeviationFrom(nearest, reading.AsUsed.ClearPointCelsius)) <= AsListedCelsius;

    /// <summary>A white product where the kind is coloured: it need not be the derivative.</summary>
    private void AddColours(List<string> warnings)
    {
        foreach (var reading in weighed.Observation.Derivatives.Where(reading => reading.ColourKey is not null))
        {
            var kind = weighed.Snapshot.Kind(reading.KindKey);
            if (kind.Colours is { } colours && !colours.Ranks(reading.ColourKey!))
            {
                var called = weighed.Snapshot.Table.Colours.First(colour => colour.Key == reading.ColourKey).Name;
                warnings.Add(
                    $"A {called} product is unusual for a {kind.Kind.Name}, which is coloured: make sure that it is not something else that came out; the colour carries no weight.");
            }
        }
    }

    /// <summary>A boiling point whose correction is out by more than it was read to.</summary>
    private void AddPressure(List<string> warnings)
    {
        if (weighed.Observation.BoilingPoint is { PressureKilopascals: < ReducedKilopascals and var pressure })
        {
            var used = weighed.Readings.First(reading => reading.Kind == EvidenceKind.BoilingPoint).AsUsed;
            warnings.Add(
                $"The boiling point was read at a pressure of {Figure.Text(pressure, decimals: 1)} kPa and is taken for {Figure.Text(used.ClearPointCelsius, decimals: 0)} °C at 101.3 kPa, with an error of some {Figure.Text(PressureCorrection.ErrorCelsius(pressure), decimals: 0)} °C: Grain's equation, which knows no structure. A boiling point at atmospheric pressure tells more, where the compound stands it.");
        }
    }

    /// <summary>A reading with nothing listed anywhere near.</summary>
    private void AddOutside(List<string> warnings)
    {
        foreach (var likelihoods in weighed.Likelihoods.OfType<TemperatureLikelihoods>())
        {
            if (likelihoods.NearestCelsius() is > LonelyCelsius and var away)
            {
                warnings.Add(
                    $"None of the listed values of the {likelihoods.Quantity} lies within {Figure.Degrees(Math.Floor(away))} °C of the {Figure.Degrees(likelihoods.Used.ClearPointCelsius)} °C read: check the reading, and whether the compound is in the table at all.");
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

    private void AddMixtures(List<string> warnings)
    {
        foreach (var of in weighed.Likelihoods.OfType<MixedMeltingLikelihoods>())
        {
            var (mixed, name) = (of.Mixed, weighed.Snapshot.Parents[of.Mixed.Partner].Name);
            var (clear, called) = (mixed.Used.ClearPointCelsius, mixed.Called(weighed.Snapshot.Parents[of.Mixed.Partner].Name));
            if (mixed.OwnCelsius is { } own && clear > Math.Max(own, mixed.PartnerMelts().Max(melts => melts.Celsius)) + AsListedCelsius)
            {
                warnings.Add(
                    $"The mixture with authentic {called} melted higher than either alone, which no mixture of two compounds should: check labels and readings, and melt all three side by side.");
            }
            else if (mixed.Authentic is not null && mixed.AboveOwnCelsius > weighed.Observation.WindowCelsius)
            {
                warnings.Add(
                    $"The mixture with authentic {called} cleared {Figure.Degrees(mixed.AboveOwnCelsius)} °C above the unknown's own crystals, so it is no sign that they are the same: recrystallise them, melt them again, and mix equal parts well.");
            }

            if (of.IsWider)
            {
                warnings.Add(
                    $"The mixture with authentic {called} melted over {Figure.Degrees(mixed.Used.SpanCelsius)} °C, {Figure.Degrees(mixed.WiderCelsius)} °C wider than what was melted beside it: that speaks of two compounds, however high it cleared. Grind equal parts together well and melt it again.");
            }

            if (mixed.Authentic is { ClearPointCelsius: var authentic }
                && mixed.Listed.Nearest(mixed.Partner, authentic) is { } listed
                && Math.Abs(ListedTemperatures.DeviationFrom(listed, authentic)) > weighed.Observation.WindowCelsius)
            {
                warnings.Add(
                    $"The authentic {called} melted at {Figure.Degrees(authentic)} °C, listed is {Figure.Range(listed.LowCelsius, listed.HighCelsius)}: make sure that it is what its label says, and pure.");
            }

            // Solid solutions of naphthalene with camphor, and a compound of it with 1,3-dinitrobenzene that melts as high as
            // their mixtures, are measured: Kremann 1904 and the IUPAC-NIST Solubility Database.
            if (of.IsUnchanged)
            {
                warnings.Add(
                    $"That the mixture with authentic {called} did not melt lower is strong evidence for {name} and no proof: some pairs of compounds, alike in shape above all, form mixed crystals or a compound and hardly lower each other.");
                if (mixed.IsPartnerLeftOut)
                {
                    warnings.Add(
                        $"{char.ToUpperInvariant(name[0])}{name[1..]} is not among the compounds allowed beforehand, so the mixture counts for \"none of these\" and not for it: put it on the list, if the unknown may be it.");
                }
            }
        }

        warnings.AddRange(weighed.MixedInVain.Select(mixed =>
            $"Nothing tells where authentic {mixed.Called(weighed.Snapshot.Parents[mixed.Partner].Name)} melts, so the mixture with it carries no weight: melt the authentic sample alone beside it."));
        warnings.AddRange(weighed.TimedInVain.Select(kind =>
            $"How soon the {kind.Kind.Name} came carries no weight: of that kind nothing is known of which compounds give it sooner."));
    }

    private void AddContradictions(List<string> warnings)
    {
        foreach (var likelihoods in weighed.Likelihoods.Where(each => each.LogRatio(_leader) < AgainstLogRatio))
        {
            warnings.Add($"This speaks against the leading candidate: {likelihoods.Weigh(_leader).Sentence}");
        }

        AddMisfits(warnings);

        foreach (var likelihoods in weighed.Likelihoods.OfType<SpotTestLikelihoods>().Where(each => each.IsContradictory(_leader)))
        {
            var tests = string.Join(", ", likelihoods.Tests.Select(test => test.Name));
            warnings.Add(
                $"Tests that ask one question disagree ({tests}): repeat them on a fresh sample with a known positive and a known negative beside it.");
        }
    }

    /// <summary>When even the best candidate explains a temperature badly, which readings pull apart.</summary>
    private void AddMisfits(List<string> warnings)
    {
        if (!weighed.Likelihoods.OfType<TemperatureLikelihoods>().Any(each => each.LogRatio(_leader) < AgainstLogRatio)
            || weighed.Likelihoods.Count < 2)
        {
            return;
        }

        var pulling = weighed.Likelihoods.OfType<TemperatureLikelihoods>()
            .Select(each => (each.Quantity, Parent: each.MostLikely(), each))
            .Where(of => of.each.LogRatio(of.Parent) > ForLogRatio)
            .Select(of => $"the {of.Quantity} points at {weighed.Snapshot.Parents[of.Parent].Name}")
            .ToList();
        var told = pulling.Count > 1 ? $" ({string.Join(", ", pulling)})" : "";
        warnings.Add(
            $"The readings do not fit together: even the best candidate explains one of them badly{told}. One may be wrong, or they may not be of the same compound: repeat the one that stands out before going on.");
    }
}
