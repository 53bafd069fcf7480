using System.Globalization;
using System.Text;
using Derivid.Core.Compounds;
using Derivid.Core.Ranking;
using Derivid.Store.Seeding;
using Derivid.Validation.Advice;
using Derivid.Validation.Experiments;
using Derivid.Validation.Fitting;
using Derivid.Validation.Literature;
using Derivid.Validation.Reports;
using Derivid.Validation.Simulation;

namespace Derivid.Validation;

/// <summary>Measures everything and writes the report and its plots. The same code and tables give the same bytes.</summary>
/// <param name="options">What to measure, and where report.md, summary.json and the plots go.</param>
/// <param name="log">Told of each part as it is done.</param>
public sealed class ValidationRun(RunOptions options, Action<string> log)
{
    private const int StudentsPerParent = 60;
    private const int HardCompounds = 15;

    private readonly ReferenceTable _table = SeedTables.Load();
    private readonly ModelSettings _settings = options.SettingsPath is { } path
        ? SettingsDocument.Load(path).Settings()
        : ModelSettingsReader.BuiltIn();
    private readonly FigureSheet _sheet = new();
    private readonly BenchParameters _parameters = new();
    private readonly StringBuilder _report = new();

    /// <summary>Runs.</summary>
    public void Run()
    {
        Directory.CreateDirectory(options.Folder);
        Write("# Validation report", string.Create(
            CultureInfo.InvariantCulture,
            $"Table version {_table.Version} with {_table.Parents.Count} parents, model version {_settings.Version}. Intervals are 95 % bootstrap intervals. What is simulated, and what is assumed, stands in tests/Derivid.Validation/README.md."));
        Do(Section.Literature, WriteLiterature);
        Do(Section.Benches, WriteBenches);

        var text = _report.ToString();
        File.WriteAllText(Path.Combine(options.Folder, "report.md"), text);
        _sheet.Save(Path.Combine(options.Folder, "summary.json"), _table.Version, _settings.Version, options.IsQuick);
        log(text);
    }

    private void Do(Section section, Action write)
    {
        if (options.Sections.Contains(section))
        {
            write();
            log($"{section} done");
        }
    }

    private void WriteBenches()
    {
        var bench = BenchTable.Of(_table);
        var plots = new Plots(options.Folder);
        var trials = WriteAdvice(bench, plots);
        var (rows, gains, details) = MeasureBench(bench, plots);
        var crude = new BenchExperiment(bench, BenchParameters.FirstEstimate)
            .Run(_settings, Students(StudentGroup.FittingSeed, bench, 10), Students(StudentGroup.ReportingSeed, bench, 20));
        Write("## Targets", TargetsPage.Others(rows, gains, trials));
        Write("### Beside the first crude estimate (top-1 / top-5)", TargetsPage.Estimate(rows, Rows(crude)));
        _report.Append(details);
        WriteInformation(bench, plots);
        Write("## Next steps", AdvicePage.Steps(trials), "![Steps](steps.svg)");
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
        var test = new LiteratureTest(_table, _settings);
        var commonness = Commonness.Load(options.CommonnessPath);
        var ratios = test.FitRatio(commonness);
        var ratio = ratios.MinBy(of => of.LogLoss).Ratio;
        var keys = _table.Parents.Select(parent => parent.Key);
        (string Name, IReadOnlyDictionary<string, double>? Weights)[] priors =
            [("uniform", null), ("commonness", commonness.Weights(keys, ratio))];
        var sets = Enum.GetValues<LiteratureSet>()
            .SelectMany(set => priors.Select(prior => test.Run(set, prior.Name, prior.Weights)))
            .ToList();
        var pages = new LiteraturePages(_sheet);
        Write("## Printed values, reporting half", pages.Methods(sets));
        Write("### Differences on the same values", pages.Differences(sets));
        Write("### Prior by commonness", LiteraturePages.Ratios(ratios));
        Write(
            "### Worked identifications",
            pages.Worked(WorkedResult.Run(_table, _settings, WorkedIdentification.Load())));
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
