using Derivid.Core.Observations;
using Derivid.Core.Ranking.Distributions;

namespace Derivid.Core.Ranking.Likelihoods;

/// <summary>A molar mass weighed against the parents' own.</summary>
internal sealed class MolarMassLikelihoods : ParentLikelihoods
{
    /// <summary>Span over which a gross error is even. Units: g/mol.</summary>
    private const double GrossSpan = 600;

    private readonly TableSnapshot _snapshot;
    private readonly MolarMassReading _reading;

    private MolarMassLikelihoods(TableSnapshot snapshot, MolarMassReading reading, double[] likelihood, double[] relative)
        : base(EvidenceKind.MolarMass, null, ParentValues.Each(likelihood), ParentValues.Each(relative))
    {
        _snapshot = snapshot;
        _reading = reading;
    }

    /// <summary>Weighs a molar mass.</summary>
    public static MolarMassLikelihoods Weigh(MolarMassReading reading, TableSnapshot snapshot)
    {
        var settings = snapshot.Settings;
        var spread = settings.OpenSet.MolarMassGramsPerMole;
        var relativeSigma = Math.Sqrt((reading.UncertaintyGramsPerMole * reading.UncertaintyGramsPerMole)
            + (spread * spread));
        var (own, relative) = (new double[snapshot.Parents.Count], new double[snapshot.Parents.Count]);
        for (var parent = 0; parent < own.Length; parent++)
        {
            var deviation = reading.GramsPerMole - snapshot.Parents[parent].MolarMass;
            own[parent] = WithGross(
                NormalDensity.At(deviation, reading.UncertaintyGramsPerMole), settings.MolarMassGrossShare);
            relative[parent] = WithGross(NormalDensity.At(deviation, relativeSigma), settings.OpenSet.EvenShare);
        }

        return new MolarMassLikelihoods(snapshot, reading, own, relative);
    }

    protected override string Describe(int parent) =>
        $"Molar mass {Figure.Text(_reading.GramsPerMole, decimals: 2)} ± {Figure.Text(_reading.UncertaintyGramsPerMole, decimals: 2)} g/mol against {Figure.Text(_snapshot.Parents[parent].MolarMass, decimals: 2)} g/mol of {_snapshot.Parents[parent].Name}.";

    private static double WithGross(double density, double share) => ((1 - share) * density) + (share / GrossSpan);
}
