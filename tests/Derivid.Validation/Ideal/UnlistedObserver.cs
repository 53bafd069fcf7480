using Derivid.Core.Observations;
using Derivid.Validation.Simulation;
using MathNet.Numerics.Distributions;

namespace Derivid.Validation.Ideal;

/// <summary>
/// What readings of a compound that the table lacks look like to someone who knows how students err, but not which
/// compound it is: the mean over relatives of every parent listed.
/// </summary>
/// <remarks>
/// The best that a service without a view of the missing compound can be measured against. Thread safety: immutable.
/// </remarks>
/// <param name="densities">How the students err.</param>
public sealed class UnlistedObserver(BenchDensities densities)
{
    // Found on the fitting half by the AUROC with everything, which is flat about them: 10 to 25 and 25 to 60 °C cost it
    // 0.003 at most.
    private const double DerivativeCelsius = 18;
    private const double OwnCelsius = 40;

    private readonly BenchTable _table = densities.Table;
    private readonly BenchParameters _bench = densities.Bench;

    /// <summary>Likelihood of a student's readings, up to the factor that <see cref="IdealObserver"/> leaves out too.</summary>
    /// <param name="student">The readings; the parent taken out for them is not looked at.</param>
    /// <param name="testKeys">The three tests.</param>
    /// <param name="rows">The rows.</param>
    /// <returns>Shape: one a row.</returns>
    public double[] Likelihoods(Student student, IReadOnlyList<string> testKeys, IReadOnlyList<EvidenceSet> rows)
    {
        var hydrazones = Melting(student, BenchTable.HydrazoneKey);
        var semicarbazones = Melting(student, BenchTable.SemicarbazoneKey);
        var boilings = Boiling(student);
        var constants = OwnConstant(student, boilings);
        var result = new double[rows.Count];
        for (var parent = 0; parent < _table.Parents.Count; parent++)
        {
            if (parent == student.Removed)
            {
                continue;
            }

            var colour = densities.Colour(student, parent);
            var tests = densities.Tests(student, parent, testKeys);
            for (var row = 0; row < rows.Count; row++)
            {
                result[row] += hydrazones[parent]
                    * (rows[row].HasFlag(EvidenceSet.Semicarbazone) ? semicarbazones[parent] : 1)
                    * (rows[row].HasFlag(EvidenceSet.BoilingPoint) ? boilings[parent] : 1)
                    * (rows[row].HasFlag(EvidenceSet.OwnConstant) ? constants[parent] : 1)
                    * (rows[row].HasFlag(EvidenceSet.Colour) ? colour : 1)
                    * (rows[row].HasFlag(EvidenceSet.SpotTests) ? tests : 1)
                    / (_table.Parents.Count - 1);
            }
        }

        return result;
    }

    private double[] Melting(Student student, string kindKey)
    {
        if (student.Derivatives.GetValueOrDefault(kindKey) is not { Range: { } range } reading)
        {
            return Nothing();
        }

        var clear = range.ClearPointCelsius - _bench.OffsetMeanCelsius;
        var records = _table.Records(kindKey);
        return Gross(
            Kernel(
                student,
                kindKey,
                records,
                record => ((1 - _bench.WetShare) * Normal.PDF(record.HighCelsius, DerivativeCelsius, clear))
                    + (_bench.WetShare * Normal.PDF(record.HighCelsius - _bench.WetLowCelsius.Mean, DerivativeCelsius, clear))),
            densities.Derivatives.Gross(range.ClearPointCelsius),
            densities.Derivatives.WidthShare(range.SpanCelsius, reading.Preparation, range.ClearPointCelsius));
    }

    private double[] Boiling(Student student)
    {
        if (student.BoilingPoint is not { ClearPointCelsius: var high })
        {
            return Nothing();
        }

        var read = high + _bench.BoilingLowCelsius - _bench.OffsetMeanCelsius;
        var spread = Math.Sqrt((_bench.UnlistedCelsius * _bench.UnlistedCelsius) + (OwnCelsius * OwnCelsius));
        return Gross(
            [.. _table.BoilingPoints.Select((listed, parent) => IsUnknown(student, parent, BenchTable.BoilingKey, listed.Length)
                ? densities.ExpectedBoiling(read, parent, spread)
                : listed.Average(constant =>
                    ((1 - _bench.LowBoilingShare) * Normal.PDF(constant.High, OwnCelsius, read))
                    + (_bench.LowBoilingShare * Normal.PDF(constant.High - _bench.LowBoilingCelsius.Mean, OwnCelsius, read))))],
            densities.Boiling.Gross(high),
            1);
    }

    private double[] OwnConstant(Student student, double[] boilings)
    {
        if (!student.IsSolid)
        {
            return [.. boilings.Select((boiling, parent) => boiling * (1 - IsSolid(parent)))];
        }

        if (student.MeltingPoint is not { } range)
        {
            return [.. boilings.Select((_, parent) => IsSolid(parent))];
        }

        var clear = range.ClearPointCelsius - _bench.OffsetMeanCelsius;
        var melting = _table.MeltingPoints
            .Select((listed, parent) => parent == student.Removed || listed.Length == 0
                ? (double?)null
                : listed.Average(constant => Normal.PDF(constant.High, OwnCelsius, clear)))
            .ToArray();
        var mean = melting.Average() ?? 0;
        var width = densities.Solids.WidthShare(range.SpanCelsius, Preparation.Recrystallised, range.ClearPointCelsius);
        var gross = densities.Solids.Gross(range.ClearPointCelsius);
        return [.. melting.Select((density, parent) =>
            width * (((1 - _bench.GrossShare) * (density ?? mean)) + (gross * IsSolid(parent))))];
    }

    /// <summary>A relative of a compound listed without a melting point is a liquid, as the compound itself is.</summary>
    private double IsSolid(int parent) =>
        _table.MeltingPoints[parent] is { Length: > 0 } listed
            ? listed.Average(constant => 1 - Normal.CDF(constant.High, OwnCelsius, _bench.RoomCelsius))
            : 0;

    /// <summary>Density of a relative's value; where none is listed, of a relative of the parents most alike.</summary>
    private double[] Kernel<T>(Student student, string key, IReadOnlyList<T[]> byParent, Func<T, double> density)
    {
        var own = byParent
            .Select((rows, parent) => IsUnknown(student, parent, key, rows.Length) ? (double?)null : rows.Average(density))
            .ToArray();
        return [.. own.Select((at, parent) => at ?? densities.Alike(key, parent).Average(other => own[other]) ?? 0)];
    }

    private static bool IsUnknown(Student student, int parent, string key, int listed) =>
        parent == student.Removed || listed == 0 || BenchTable.IsHeldOut(student.Removed, parent, key);

    private double[] Nothing()
    {
        var filled = new double[_table.Parents.Count];
        Array.Fill(filled, 1);
        return filled;
    }

    private double[] Gross(double[] density, double gross, double factor) =>
        [.. density.Select(at => factor * (((1 - _bench.GrossShare) * at) + gross))];
}
