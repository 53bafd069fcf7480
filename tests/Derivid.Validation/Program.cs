using System.Diagnostics;
using Derivid.Store.Seeding;
using Derivid.Validation.Experiments;
using Derivid.Validation.Metrics;
using Derivid.Validation.Simulation;

var watch = Stopwatch.StartNew();
var table = BenchTable.Of(SeedTables.Load());
Console.WriteLine($"{table.Parents.Count} parents; entropies {table.FusionEntropies.Length}");
var experiment = new BenchExperiment(table, new BenchParameters());
var n = int.Parse(args.FirstOrDefault() ?? "1580");
var results = experiment.Run(ModelSettingsReader.BuiltIn(), new StudentGroup(1, n), new StudentGroup(2, n));
Console.WriteLine($"{watch.Elapsed.TotalSeconds:0.0} s");
for (var row = 0; row < EvidenceSets.Rows.Count; row++)
{
    Console.WriteLine(EvidenceSets.Name(EvidenceSets.Rows[row]));
    foreach (var m in Enum.GetValues<Method>())
    {
        var s = Summary.Of(results.Of(row, m));
        Console.WriteLine($"   {m,-15} top1 {s.Top1:0.000} top3 {s.Top3:0.000} top5 {s.Top5:0.000} rank {s.MeanRank:0.0} loss {s.LogLoss:0.000} brier {s.Brier:0.000} ece {s.CalibrationError:0.000} none {s.NoneShare:0.00} auroc {s.NoneAuroc:0.000}");
    }
}
