using System.Globalization;
using System.Text;
using Derivid.Core.Compounds;
using Derivid.Core.Ranking;
using Derivid.Store.Seeding;
using Derivid.Validation.Advice;
using Derivid.Validation.Experiments;
using Derivid.Validation.Literature;
using Derivid.Validation.Reports;
using Derivid.Validation.Simulation;

namespace Derivid.Validation;

/// <summary>Measures everything and writes the report and its plots. The same code and tables give the same bytes.</summary>
/// <param name="folder">Where report.md and the plots go.</param>
/// <param name="log">Told of each part as it is done.</param>
public sealed class ValidationRun(string folder, Action<string> log)
{
    private const int StudentsPerParent = 60;
    private const int HardCompounds = 15;

    private readonly ReferenceTable _table = SeedTables.Load();
    private readonly ModelSettings _settings = ModelSettingsReader.BuiltIn();
    private readonly BenchParameters _parameters = new();
    private readonly StringBuilder _report = new();

    /// <summary>Runs.</summary>
    public void Run()
    {
        Directory.CreateDirectory(folder);
        var bench = BenchTable.Of(_table);
        Write("# Validation report", string.Create(
            CultureInfo.InvariantCulture,
            $"Table version {_table.Version}, model version {_settings.Version}, {bench.Parents.Count} parents with a 2,4-dinitrophenylhydrazone, {StudentsPerParent} simulated students for each. Intervals are 95 % bootstrap intervals over students. What is simulated, and what is assumed, stands in tests/Derivid.Validation/README.md."));

        var plots = new Plots(folder);
        var trials = WriteAdvice(bench, plots);
        var (rows, gains, details) = MeasureBench(bench, plots);
        var crude = new BenchExperiment(bench, BenchParameters.FirstEstimate)
            .Run(_settings, Students(StudentGroup.FittingSeed, bench, 10), Students(StudentGroup.ReportingSeed, bench, 20));
        Write("## Targets", TargetsPage.Others(rows, gains, trials));
        Write("### Beside the first crude estimate (top-1 / top-5)", TargetsPage.Estimate(rows, Rows(crude)));
        _report.Append(details);
        WriteLiterature();
        WriteInformation(bench, plots);
        Write("## Next steps", AdvicePage.Steps(trials), "![Steps](steps.svg)");

        var text = _report.ToString();
        File.WriteAllText(Path.Combine(folder, "report.md"), text);
        log(text);
    }

    private (IReadOnlyList<RowReport> Rows, IReadOnlyList<ColourGain> Gains, string Details) MeasureBench(
        BenchTable bench, Plots plots)
    {
        var students = Students(StudentGroup.ReportingSeed, bench, StudentsPerParent);
        var results = new BenchExperiment(bench, _parameters)
            .Run(_settings, Students(StudentGroup.FittingSeed, bench, 20), students);
        log("bench simulated");
        var rows = Rows(results);
        var gains = Enumerable.Range(0, rows.Count / 2).Select(i => ColourGain.Build(results, 2 * i)).ToList();
        plots.Reliability(results);
        plots.TopK(results);
        log("bench scored");
        return (rows, gains, Details(bench, results, students, rows, gains));
    }

    private string Details(
        BenchTable bench,
        BenchResults results,
        StudentGroup students,
        List<RowReport> rows,
        List<ColourGain> gains)
    {
        var details = new StringBuilder();
        details.Append("## Bench simulation\n\n").Append(BenchPages.Methods(rows)).Append('\n');
        details.Append("### Differences on the same students\n\n").Append(BenchPages.Differences(rows, gains)).Append('\n');
        details.Append("![Reliability](reliability.svg)\n\n![Top k](top-k.svg)\n\n");
        foreach (var row in new[] { EvidenceSets.Everything + 1, EvidenceSets.EverythingAsTaken + 1 })
        {
            details.Append(CultureInfo.InvariantCulture, $"### AUROC of none, by what is listed: {EvidenceSets.Name(rows[row].Row)}\n\n");
            details.Append(BenchPages.Listing(NoneByListing.Of(bench, _parameters, results, students, row))).Append('\n');
        }

        foreach (var row in TargetsPage.BelowEstimate(rows).Append(EvidenceSets.EverythingAsTaken + 1))
        {
            details.Append(CultureInfo.InvariantCulture, $"### Hardest compounds: {EvidenceSets.Name(rows[row].Row)}\n\n");
            details.Append(BenchPages.Hardest(HardCompound.Of(bench, _parameters, results, students, row, HardCompounds))).Append('\n');
        }

        return details.ToString();
    }

    private IReadOnlyDictionary<StepOrder, AdviceTrial[]> WriteAdvice(BenchTable bench, Plots plots)
    {
        var trials = new AdviceExperiment(bench, _parameters, _settings)
            .Run(Students(StudentGroup.ReportingSeed, bench, 4));
        plots.Steps(trials);
        log("advice followed");
        return trials;
    }

    private void WriteLiterature()
    {
        var cases = CrossSourceTest.Cases(_table);
        var fitted = ListedPair.Halves([
            .. ListedPair.Derivatives(_table), .. ListedPair.Constants(_table, ParentProperty.MeltingPoint)])
            .Fitting.Select(pair => pair.ParentKey).ToHashSet(StringComparer.Ordinal);
        var single = CrossSourceTest.Run(_table, _settings, CrossSourceTest.OneKindEach(cases));
        var joint = CrossSourceTest.Run(_table, _settings, [.. cases.Where(one => one.Readings.Count > 1)]);
        bool Read(CrossSourceResult result) => result.Case.Family != CrossSourceTest.Handbooks;
        Write("## Cross-source test", LiteraturePages.CrossSource([
            ("value read against recalled handbooks, one derivative", [.. single.Where(Read)]),
            ("the same, parents no number was fitted on", [.. single.Where(Read).Where(r => !fitted.Contains(r.Case.ParentKey))]),
            ("the same, several derivatives at once", [.. joint.Where(Read)]),
            ("handbook value against the sources read, one derivative", [.. single.Where(result => !Read(result))]),
        ]));
        Write("### Cases not among the first five (value read against handbooks)", string.Join('\n', single
            .Where(Read)
            .Where(result => result.Rank > 5)
            .Select(result => $"- {result.Case.ParentKey}, {result.Case.Text}: rank {result.Rank}; leader {result.Leader}")));
        Write(
            "## Worked identifications",
            LiteraturePages.Worked(WorkedResult.Run(_table, _settings, WorkedIdentification.Load())));
        log("published values ranked");
    }

    private void WriteInformation(BenchTable bench, Plots plots)
    {
        var pieces = EvidenceInformation.Measure(
            bench, _parameters, _settings, Students(StudentGroup.ReportingSeed, bench, 10));
        plots.Information(pieces);
        Write("## Information of each piece of evidence", BenchPages.Information(pieces), "![Information](information.svg)");
    }

    private void Write(params string[] parts)
    {
        foreach (var part in parts)
        {
            _report.Append(part.TrimEnd('\n')).Append("\n\n");
        }
    }

    private static List<RowReport> Rows(BenchResults results) =>
        [.. Enumerable.Range(0, EvidenceSets.Rows.Count).Select(row => RowReport.Build(results, row))];

    private static StudentGroup Students(int seed, BenchTable bench, int perParent) =>
        new(seed, perParent * bench.Parents.Count);
}
