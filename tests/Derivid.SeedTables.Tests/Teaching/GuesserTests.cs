using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Teaching.Grading;
using Derivid.Store.Seeding;

namespace Derivid.SeedTables.Tests.Teaching;

/// <summary>Whoever makes readings up, against the course of the invented class: what 10 of 34 points for derivatives bring them.</summary>
public sealed class GuesserTests(ITestOutputHelper output)
{
    private const int Reports = 4000;

    private static readonly TableSnapshot Snapshot = TableSnapshot.Build(Store.Seeding.SeedTables.Load(), ModelSettingsReader.BuiltIn());

    private static readonly string[] Shelf =
    [
        "propanone", "butanone", "pentan-3-one", "cyclohexanone", "cyclopentanone", "benzaldehyde", "acetophenone",
        "cinnamaldehyde",
    ];

    private static readonly string[] Kinds = ["2-4-dinitrophenylhydrazone", "semicarbazone"];

    [Fact]
    public void Measure()
    {
        var all = Snapshot.Kinds.Select(kind => kind.Kind.Key).ToArray();
        foreach (var kind in Snapshot.Kinds)
        {
            output.WriteLine($"{kind.Kind.Key}: {Shelf.Count(key => Snapshot.TryFindParent(key, out var i) && kind.Listed.Of(i).Count > 0)} of {Shelf.Length}, {Enumerable.Range(0, Snapshot.Parents.Count).Count(i => kind.Listed.Of(i).Count > 0)} in all");
        }

        var names = new (string, string[])[]
        {
            ("one offered", [Kinds[0]]), ("other offered", [Kinds[1]]), ("both", Kinds), ("all", all),
        };
        foreach (var (what, kinds) in names.Concat(all.Select(kind => (kind, new[] { kind }))))
        {
            output.WriteLine($"{what}: {Mean(kinds, 1):0.00} {Mean(kinds, 2):0.00}");
        }
    }

    private static double Mean(string[] kinds, int expected)
    {
        var random = new Random(1);
        var rubric = Rubric.Usual with { ExpectedDerivatives = expected };
        var points = 0.0;
        for (var i = 0; i < Reports; i++)
        {
            var readings = new List<DerivativeReading>();
            foreach (var kind in kinds)
            {
                var clear = 60 + (200 * random.NextDouble());
                readings.Add(new DerivativeReading(kind, new MeltingRange(clear - 6, clear - 1), Preparation.Crude));
                readings.Add(new DerivativeReading(kind, new MeltingRange(clear - 1, clear), Preparation.Recrystallised));
            }

            var grade = Grader.Grade(
                new Report { Observation = new Observation { Derivatives = readings } },
                new Unknown(Shelf[i % Shelf.Length], Shelf), rubric, Snapshot);
            points += (double)grade.Total;
        }

        return points / Reports;
    }
}
