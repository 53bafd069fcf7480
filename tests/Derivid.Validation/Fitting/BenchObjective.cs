using Derivid.Core.Compounds;
using Derivid.Core.Estimates;
using Derivid.Core.Ranking;
using Derivid.Validation.Experiments;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Fitting;

/// <summary>Mean log loss of the engine on the fitting half of the simulated students.</summary>
/// <remarks>
/// As in the report, unknowns are absent for some; but here a sixteenth of the parents is taken out at once, so that one
/// evaluation needs sixteen snapshots and not one for each parent.
/// </remarks>
public sealed class BenchObjective
{
    private const int Folds = 16;

    private readonly BenchTable _table;
    private readonly IReadOnlyList<EvidenceSet> _rows;
    private readonly Student[][] _byFold;
    private readonly (ReferenceTable Table, TableEstimates Estimates)[] _tables;

    /// <summary>Makes the students.</summary>
    public BenchObjective(
        BenchTable table,
        IReadOnlyList<BenchParameters> parameters,
        StudentGroup group,
        IReadOnlyList<EvidenceSet> rows)
    {
        _table = table;
        _rows = rows;
        var benches = parameters.Select(of => new Bench(table, of)).ToList();
        _byFold = [.. Enumerable.Range(0, group.Count)
            .SelectMany(number => benches.Select(bench => bench.Student(group.Seed, number)))
            .Where(student => student.IsAbsent || student.Truth % Folds != student.Removed % Folds)
            .GroupBy(student => student.Removed % Folds)
            .OrderBy(fold => fold.Key)
            .Select(fold => fold.ToArray())];
        _tables = [.. Enumerable.Range(0, Folds).Select(fold =>
        {
            var removed = table.Parents
                .Where((_, parent) => parent % Folds == fold)
                .Select(parent => parent.Key)
                .ToHashSet(StringComparer.Ordinal);
            var kept = table.Known(BenchTable.Keep(table.Table, key => !removed.Contains(key)), fold);
            return (kept, TableEstimates.Of(kept));
        })];
    }

    /// <summary>The loss, averaged over students and rows. Units: nats.</summary>
    /// <param name="settings">The engine's settings.</param>
    public double At(ModelSettings settings)
    {
        var losses = new double[Folds];
        Parallel.For(0, Folds, fold =>
        {
            var (kept, estimates) = _tables[fold];
            var snapshot = TableSnapshot.Build(kept, settings, estimates);
            var engine = new IdentificationEngine(snapshot);
            losses[fold] = _byFold[fold].Sum(student => Loss(engine, snapshot, student));
        });
        return losses.Sum() / (_byFold.Sum(fold => fold.Length) * _rows.Count);
    }

    private double Loss(IdentificationEngine engine, TableSnapshot snapshot, Student student)
    {
        var loss = 0.0;
        foreach (var row in _rows)
        {
            var view = engine.Weigh(student.Observe(row, BenchExperiment.TestKeys));
            var right = snapshot.TryFindParent(_table.Parents[student.Truth].Key, out var index)
                ? view.Probability[index]
                : view.NoneOfThese;
            loss -= Math.Log(right);
        }

        return loss;
    }
}
