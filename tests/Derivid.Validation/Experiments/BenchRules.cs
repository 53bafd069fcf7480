using Derivid.Validation.Baselines;
using Derivid.Validation.Metrics;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Experiments;

/// <summary>The hand rules with their probabilities fitted, row by row, on the fitting half of the ordinary bench.</summary>
/// <remarks>Like the engine they are not told which bench they are used on. Thread safety: immutable.</remarks>
public sealed class BenchRules
{
    private readonly HandComparison _hand;
    private readonly Fitted[] _rows;

    private BenchRules(HandComparison hand, Fitted[] rows) => (_hand, _rows) = (hand, rows);

    /// <summary>Fits.</summary>
    public static BenchRules Fit(BenchTable table, StudentGroup fitting)
    {
        var hand = new HandComparison(table, BenchExperiment.TestKeys);
        var bench = new Bench(table, BenchParameters.Ordinary with { AbsentShare = 0.1 });
        var students = Enumerable.Range(0, fitting.Count).Select(number => bench.Student(fitting.Seed, number)).ToList();
        return new BenchRules(hand, [.. EvidenceSets.Rows.AsParallel().AsOrdered().Select(row =>
        {
            var soft = students.Select(student => Case(hand, student, row)).ToList();
            return new Fitted(
                SoftRule.Fit(SoftShape.Nearest, soft),
                SoftRule.Fit(SoftShape.Window, soft),
                Baseline.Fit([.. students.Select(student => new Baseline.FittingCase(
                    hand.Compare(student, row), student.Truth, student.IsAbsent))]));
        })]);
    }

    /// <summary>A rule's answer to a student's readings.</summary>
    public MethodReply Answer(Student student, int row, Method method)
    {
        var set = EvidenceSets.Rows[row];
        return method switch
        {
            Method.Nearest => _rows[row].Nearest.Answer(Case(_hand, student, set)),
            Method.Window => _rows[row].Window.Answer(Case(_hand, student, set)),
            _ => _rows[row].Hand.Answer(_hand.Compare(student, set)),
        };
    }

    private static SoftRule.Case Case(HandComparison hand, Student student, EvidenceSet row)
    {
        var distances = hand.Distances(student, row);
        var prior = new double[hand.ParentCount];
        Array.Fill(prior, 1);
        prior[student.Removed] = 0;
        return new SoftRule.Case(distances, prior, student.Truth, student.IsAbsent);
    }

    private sealed record Fitted(SoftRule Nearest, SoftRule Window, Baseline Hand);
}
