using Derivid.Core.Melting;
using Derivid.Core.Ranking;
using Derivid.Validation.Metrics;
using Derivid.Validation.Simulation;
using MathNet.Numerics.Distributions;

namespace Derivid.Validation.Experiments;

/// <summary>What a thermometer's error costs, and what a calibration brings back.</summary>
/// <remarks>
/// The same students with the same unknowns, all of them in the table, read each of <see cref="ThermometerState"/>. Whoever
/// calibrates reads three standards once, as finely as everything else; the service is told their readings and nothing more.
/// </remarks>
/// <param name="table">The table.</param>
/// <param name="parameters">The bench; its own thermometers are those of <see cref="ThermometerState.Unknown"/>.</param>
/// <param name="settings">The engine's settings.</param>
public sealed class ThermometerExperiment(BenchTable table, BenchParameters parameters, ModelSettings settings)
{
    /// <summary>How far off a thermometer is that is off; every other one reads low. Units: °C.</summary>
    public const double OffCelsius = 3;

    /// <summary>The standards that are melted: one cool, one between, one hot.</summary>
    public static IReadOnlyList<string> StandardKeys { get; } = ["naphthalene", "benzoic-acid", "caffeine"];

    private readonly Bench _true = new(table, parameters with { OffsetMeanCelsius = 0, OffsetCelsius = 0 });
    private readonly Bench _high = new(table, parameters with { OffsetMeanCelsius = OffCelsius, OffsetCelsius = 0 });
    private readonly Bench _low = new(table, parameters with { OffsetMeanCelsius = -OffCelsius, OffsetCelsius = 0 });
    private readonly Bench _unknown = new(table, parameters);

    /// <summary>Ranks every student's unknown under every state.</summary>
    /// <param name="group">The students.</param>
    /// <returns>Shape: by state, one list a row of <see cref="EvidenceSets.Rows"/>, one score a student.</returns>
    public IReadOnlyDictionary<ThermometerState, CaseScore[][]> Run(StudentGroup group)
    {
        var engine = new IdentificationEngine(TableSnapshot.Build(table.Table, settings));
        var states = Enum.GetValues<ThermometerState>();
        var scores = states.ToDictionary(state => state, _ => EvidenceSets.Rows.Select(_ => new CaseScore[group.Count]).ToArray());
        Parallel.For(0, group.Count, number =>
        {
            var truth = number % table.Parents.Count;
            foreach (var state in states)
            {
                var (bench, offset) = Of(state, number);
                var student = bench.StudentWith(group.Seed, number, truth);
                var thermometer = IsCalibrated(state) ? Calibrated(offset, new Random(number)) : ThermometerCorrection.None;
                foreach (var (row, set) in EvidenceSets.Rows.Index())
                {
                    var view = engine.Weigh(student.Observe(set, BenchExperiment.TestKeys) with { Thermometer = thermometer });
                    scores[state][row][number] = CaseScore.Of(
                        new MethodReply([.. view.Probability], view.NoneOfThese), student.Truth, isAbsent: false);
                }
            }
        });
        return scores;
    }

    private (Bench Bench, double Offset) Of(ThermometerState state, int number) => state switch
    {
        ThermometerState.True or ThermometerState.TrueCalibrated => (_true, 0),
        ThermometerState.Unknown => (_unknown, 0),
        _ => number / table.Parents.Count % 2 == 0 ? (_high, OffCelsius) : (_low, -OffCelsius),
    };

    private static bool IsCalibrated(ThermometerState state) => state is ThermometerState.OffCalibrated or ThermometerState.TrueCalibrated;

    private ThermometerCorrection Calibrated(double offset, Random random) => new(StandardKeys
        .Select(key => table.Table.Standards.First(standard => standard.Key == key).ClearPointCelsius)
        .Select(accepted => new CalibrationPoint(accepted + offset + Normal.Sample(random, 0, parameters.ReadingCelsius), accepted)));
}

/// <summary>A thermometer, and what is known of it.</summary>
public enum ThermometerState
{
    /// <summary>It reads true, and nobody knows.</summary>
    True,

    /// <summary>It reads true, and three standards were melted.</summary>
    TrueCalibrated,

    /// <summary>Its error is drawn as the bench's thermometers' are, and nobody knows.</summary>
    Unknown,

    /// <summary>It is 3 °C off, and nobody knows.</summary>
    Off,

    /// <summary>It is 3 °C off, and three standards were melted.</summary>
    OffCalibrated,
}
