using Derivid.Core.Melting;
using Derivid.Core.Observations;

namespace Derivid.Validation.Simulation;

/// <summary>One simulated student with one unknown.</summary>
public sealed record Student
{
    /// <summary>Index of the true parent in the bench table.</summary>
    public required int Truth { get; init; }

    /// <summary>Index of the parent taken out of the table the student's readings are ranked against.</summary>
    public required int Removed { get; init; }

    /// <summary>Whether the true parent is the one taken out.</summary>
    public bool IsAbsent => Truth == Removed;

    /// <summary>The student's readings of derivatives, by kind. Missing: no crystals.</summary>
    public required IReadOnlyDictionary<string, DerivativeReading> Derivatives { get; init; }

    /// <summary>The student's spot tests, by test.</summary>
    public required IReadOnlyDictionary<string, SpotTestReading> SpotTests { get; init; }

    /// <summary>Boiling range.</summary>
    public required MeltingRange BoilingPoint { get; init; }

    /// <summary>Melting range of the unknown itself. Missing: null, it is a liquid.</summary>
    public required MeltingRange? MeltingPoint { get; init; }

    /// <summary>The part of the readings a row of the report uses, as the service takes them.</summary>
    /// <param name="row">The row.</param>
    /// <param name="testKeys">The three tests.</param>
    public Observation Observe(EvidenceSet row, IReadOnlyList<string> testKeys)
    {
        var derivatives = new List<DerivativeReading>();
        if (row.HasFlag(EvidenceSet.Hydrazone))
        {
            var reading = Derivatives[BenchTable.HydrazoneKey];
            derivatives.Add(row.HasFlag(EvidenceSet.Colour) ? reading : reading with { ColourKey = null });
        }

        if (row.HasFlag(EvidenceSet.Semicarbazone))
        {
            derivatives.Add(Derivatives[BenchTable.SemicarbazoneKey]);
        }

        return new Observation
        {
            Derivatives = derivatives,
            SpotTests = row.HasFlag(EvidenceSet.SpotTests) ? [.. testKeys.Select(key => SpotTests[key])] : [],
            BoilingPoint = row.HasFlag(EvidenceSet.BoilingPoint) || (row.HasFlag(EvidenceSet.OwnConstant) && MeltingPoint is null)
                ? new BoilingPointReading(BoilingPoint)
                : null,
            State = row.HasFlag(EvidenceSet.OwnConstant) ? MeltingPoint is null ? PhysicalState.Liquid : PhysicalState.Solid : null,
            MeltingPoint = row.HasFlag(EvidenceSet.OwnConstant) ? MeltingPoint : null,
        };
    }
}
