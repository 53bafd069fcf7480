using Derivid.Core.Melting;
using Derivid.Core.Observations;

namespace Derivid.Validation.Simulation;

/// <summary>One simulated student with one unknown.</summary>
public sealed record Student
{
    /// <summary>Index of the true parent in the bench table.</summary>
    public required int Truth { get; init; }

    /// <summary>Index of the parent taken out of the table the student's readings are ranked against; −1 for none.</summary>
    public required int Removed { get; init; }

    /// <summary>Whether the true parent is the one taken out.</summary>
    public bool IsAbsent => Truth == Removed;

    /// <summary>The student's readings of derivatives, by kind. Missing: it cannot form, or was not read.</summary>
    public required IReadOnlyDictionary<string, DerivativeReading> Derivatives { get; init; }

    /// <summary>The student's spot tests, by test. Missing: not run.</summary>
    public required IReadOnlyDictionary<string, SpotTestReading> SpotTests { get; init; }

    /// <summary>Boiling range. Missing: null, not taken.</summary>
    public required MeltingRange? BoilingPoint { get; init; }

    /// <summary>Whether the unknown is a solid.</summary>
    public required bool IsSolid { get; init; }

    /// <summary>Melting range of the unknown itself. Missing: null, it is a liquid or was not melted.</summary>
    public required MeltingRange? MeltingPoint { get; init; }

    /// <summary>The part of the readings a row of the report uses, as the service takes them.</summary>
    /// <param name="row">The row.</param>
    /// <param name="testKeys">The three tests.</param>
    public Observation Observe(EvidenceSet row, IReadOnlyList<string> testKeys)
    {
        var derivatives = new List<DerivativeReading>();
        if (row.HasFlag(EvidenceSet.Hydrazone) && Derivatives.TryGetValue(BenchTable.HydrazoneKey, out var hydrazone))
        {
            derivatives.Add(row.HasFlag(EvidenceSet.Colour) ? hydrazone : hydrazone with { ColourKey = null });
        }

        if (row.HasFlag(EvidenceSet.Semicarbazone)
            && Derivatives.TryGetValue(BenchTable.SemicarbazoneKey, out var semicarbazone))
        {
            derivatives.Add(semicarbazone);
        }

        var takesOwn = row.HasFlag(EvidenceSet.OwnConstant);
        return new Observation
        {
            // Unknowns are drawn from all parents alike, and the engine is told so, as every rule and observer is.
            Prior = new() { IsUniform = true },
            Derivatives = derivatives,
            SpotTests = row.HasFlag(EvidenceSet.SpotTests)
                ? [.. testKeys.Where(SpotTests.ContainsKey).Select(key => SpotTests[key])]
                : [],
            BoilingPoint = (row.HasFlag(EvidenceSet.BoilingPoint) || (takesOwn && !IsSolid)) && BoilingPoint is { } boiling
                ? new BoilingPointReading(boiling)
                : null,
            State = takesOwn ? IsSolid ? PhysicalState.Solid : PhysicalState.Liquid : null,
            MeltingPoint = takesOwn ? MeltingPoint : null,
        };
    }
}
