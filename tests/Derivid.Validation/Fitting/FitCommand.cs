using Derivid.Core.Compounds;
using Derivid.Validation.Experiments;
using Derivid.Validation.Literature;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Fitting;

/// <summary>Fits the model settings on the fitting halves and writes them back with the version raised.</summary>
/// <param name="table">The whole reference table.</param>
/// <param name="log">Told of the progress, a line each.</param>
public sealed class FitCommand(ReferenceTable table, Action<string> log)
{
    private const int Students = 434;

    /// <summary>Share of absent unknowns fitted on: between the least and the most reported. Chosen.</summary>
    private const double AbsentShare = 0.15;

    private const string BenchBasis =
        "Derivid.Validation fit: least sum of log losses on the fitting halves, of printed values and of the students of three simulated benches (the strange one is kept out), whose errors are assumed where its README says so.";

    // What students cannot tell, or are given next to none of, is chosen: a thermometer's error from a reader's, wet crystals,
    // compounds like nothing listed, readings of several compounds. Worth and width of values elsewhere are chosen on printed
    // values, see README.md.
    // Colour calls are left out: nothing is published on them, so a fit would only hand back what the bench assumes.
    private static readonly (string Name, double Least, double Most)[] Numbers =
    [
        ("derivativeMelting.grossShare", 0.01, 0.2),
        ("derivativeMelting.hotFactor", 1, 2),
        ("derivativeMelting.unlistedFactor", 1, 3),
        ("care.perSpanCelsius", 0.01, 1),
        ("depression.pureSpanCelsius", 0.2, 4),
        ("depression.impureSpanCelsius", 1, 15),
        ("depression.baseCelsius", 0.05, 4),
        ("depression.perSpanCelsius", 0.05, 2),
        ("openSet.derivativeMeltingCelsius", 5, 80),
        ("openSet.boilingCelsius", 5, 120),
        ("boiling.elsewhereWorth", 0.01, 3),
        ("boiling.unlistedFactor", 1, 3),
        ("boiling.wideShare", 0.01, 0.5),
        ("boiling.wideCelsius", 3, 25),
        ("boiling.grossShare", 0.005, 0.2),
        ("boilingLow.celsius", 0.1, 5),
        ("boilingLow.grossShare", 0.001, 0.2),
        ("parentMelting.elsewhereWorth", 0.01, 3),
        ("parentMelting.unlistedFactor", 1, 3),
        ("parentMelting.wideShare", 0.01, 0.5),
        ("parentMelting.wideCelsius", 3, 30),
        ("parentMelting.grossShare", 0.005, 0.2),
        ("openSet.parentMeltingCelsius", 5, 120),
    ];

    /// <summary>Fits and writes.</summary>
    /// <param name="path">The settings file, read and written.</param>
    /// <param name="sweeps">Rounds of the search.</param>
    public void Run(string path, int sweeps)
    {
        var settings = SettingsDocument.Load(path);
        FitPairs(settings);

        FitAll(settings, sweeps);
        settings.Save(path);
    }

    private void FitPairs(SettingsDocument settings)
    {
        // The derivatives' own pairs are too few to fit by themselves: the parents' melting points go in with them.
        var (derivatives, melting) = (ListedPair.Derivatives(table), ListedPair.Constants(table, ParentProperty.MeltingPoint));
        EnterPairs(settings, "derivativeMelting", "melting points of derivatives and parents", [.. derivatives, .. melting]);
        EnterPairs(settings, "parentMelting", "melting points of parents", melting);
        EnterPairs(settings, "boiling", "boiling points", ListedPair.Constants(table, ParentProperty.BoilingPoint));

        var handbooks = HandbookDisagreement.Pairs(table);
        var factor = HandbookDisagreement.Ratio(handbooks, pair => pair.KindKey == BenchTable.SemicarbazoneKey);
        log($"handbook disagreement: semicarbazones {factor:0.00} times the rest; at or above 200 °C {HandbookDisagreement.Ratio(handbooks, pair => pair.UsualCelsius >= 200):0.00} times");
        settings.Enter(
            "scatterFactorByKind.semicarbazone", factor, "fitted",
            $"Derivid.Validation fit: median disagreement of usual and alternative recalled values over that of the other kinds ({handbooks.Count} pairs).");
    }

    /// <summary>One listed value has 1/√2 of the core of a difference, and half of its wide and even shares.</summary>
    private void EnterPairs(SettingsDocument settings, string prefix, string what, IReadOnlyList<ListedPair> pairs)
    {
        var differing = pairs.Where(pair => pair.Others.All(other => other != pair.Value)).ToList();
        var (fitting, reporting) = ListedPair.Halves(differing);
        var fitted = PairScatter.Fit(fitting);
        var before = new PairScatter(
            Math.Sqrt(Squared(settings[$"{prefix}.coreReadCelsius"]) + Squared(settings[$"{prefix}.coreRecalledCelsius"])),
            2 * settings[$"{prefix}.wideShare"],
            settings[$"{prefix}.wideCelsius"],
            2 * settings[$"{prefix}.grossShare"]);
        log($"{what}: {pairs.Count} pairs, {differing.Count} differ; difference core {fitted.CoreCelsius:0.00} °C, wide {fitted.WideShare:0.00} at {fitted.WideCelsius:0.0} °C, even {fitted.GrossShare:0.000}; mean log score of the reporting half {fitted.LogScore(reporting):0.000}, with the settings before {before.LogScore(reporting):0.000}");
        var basis = $"Derivid.Validation fit: maximum likelihood on the fitting half of {differing.Count} pairs of {what} from independent sources that differ (of {pairs.Count}); identical ones may be copies.";
        var core = fitted.CoreCelsius / Math.Sqrt(2);
        settings.Enter($"{prefix}.coreRecalledCelsius", core, "fitted", $"{basis} Core of the difference over √2.");
        settings.Enter($"{prefix}.coreReadCelsius", core, "fitted", $"{basis} Core of the difference over √2.");
        settings.Enter($"{prefix}.coreCrossCheckedCelsius", core / Math.Sqrt(2), "fitted", $"{basis} Half the core of the difference: the mean of two values.");
    }

    private void FitAll(SettingsDocument settings, int sweeps)
    {
        var numbers = Numbers;
        var bench = new BenchObjective(
            BenchTable.Of(table),
            [.. BenchParameters.All
                .Where(parameters => parameters.StrangeSeed is null)
                .Select(parameters => parameters with { AbsentShare = AbsentShare })],
            new StudentGroup(StudentGroup.FittingSeed, Students),
            EvidenceSets.Rows);
        var literature = new LiteratureTest(table, settings.Settings());
        var at = numbers.Select(number => settings[number.Name]).ToArray();
        var trial = settings.Copy();
        double Loss(double[] values)
        {
            for (var i = 0; i < values.Length; i++)
            {
                trial[numbers[i].Name] = values[i];
            }

            var model = trial.Settings();
            return bench.At(model) + literature.FittingLoss(model);
        }

        log($"log loss on the fitting halves, benches and printed values, before: {Loss(at):0.0000}");
        CoordinateSearch.Minimise(
            at,
            [.. numbers.Select(number => (number.Least, number.Most))],
            Loss,
            sweeps,
            (sweep, best) => log($"after sweep {sweep + 1}: {best:0.0000}"));
        for (var i = 0; i < at.Length; i++)
        {
            log($"{numbers[i].Name}: {settings[numbers[i].Name]:0.###} -> {at[i]:0.###}");
            settings.Enter(numbers[i].Name, at[i], "fitted", BenchBasis);
        }
    }

    private static double Squared(double value) => value * value;
}
