using System.Globalization;
using System.Text;
using Derivid.Core.Compounds;
using Derivid.Core.Ranking;
using Derivid.Store.Seeding;
using Derivid.Validation.Advice;
using Derivid.Validation.Checking;
using Derivid.Validation.Decisions;
using Derivid.Validation.Experiments;
using Derivid.Validation.Fitting;
using Derivid.Validation.Ideal;
using Derivid.Validation.Learning;
using Derivid.Validation.Literature;
using Derivid.Validation.Reports;
using Derivid.Validation.Simulation;

namespace Derivid.Validation;

/// <summary>Measures everything and writes the report and its plots. The same code and tables give the same bytes.</summary>
/// <param name="options">What to measure, and where report.md, summary.json and the plots go.</param>
/// <param name="log">Told of each part as it is done.</param>
public sealed class ValidationRun(RunOptions options, Action<string> log)
{
    private const int StudentsPerParent = 20;
    private const int HardCompounds = 15;

    private readonly ReferenceTable _table = SeedTables.Load();
    private readonly ModelSettings _settings = options.SettingsPath is { } path
        ? SettingsDocument.Load(path).Settings()
        : ModelSettingsReader.BuiltIn();
    private readonly FigureSheet _sheet = new();
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
        Do(Section.Advice, WriteAdvice);
        Do(Section.Information, WriteInformation);
        Do(Section.Thermometers, WriteThermometers);
        Do(Section.Decisions, WriteDecisions);
        Do(Section.Checking, WriteChecking);
        Do(Section.Learning, WriteLearning);

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
        var table = BenchTable.Of(_table);
        var rules = BenchRules.Fit(table, Students(StudentGroup.FittingSeed, table, options.IsQuick ? 1 : 3));
        log("hand rules fitted");
        var plots = new Plots(options.Folder);
        var students = Students(StudentGroup.ReportingSeed, table, options.IsQuick ? 2 : StudentsPerParent);
        var engines = new ReducedEngines(table, _settings);
        var observers = new BenchObservers(table);
        var benches = BenchParameters.All
            .Select(parameters => BenchReport.Measure(table, parameters, engines, rules, observers, students))
            .ToList();
        Write(
            "## Benches: the worst of each",
            string.Create(CultureInfo.InvariantCulture, $"{students.Count} simulated students on each bench."),
            BenchPages.Worst(benches));
        foreach (var bench in benches)
        {
            BenchPages.Enter(_sheet, bench);
            plots.Reliability(bench);
            Write($"## The {bench.Parameters.Name} bench", "### A tenth absent", BenchPages.Methods(bench, 0.1));
            Write("### Differences on the same students", BenchPages.Differences(bench, 0.1));
            Write("### By share of absent unknowns", BenchPages.Shares(bench));
            Write($"![Reliability](reliability-{bench.Parameters.Name}.svg)");
        }

        WriteDetails(table, benches.First(bench => bench.Parameters == BenchParameters.Ordinary), students);
    }

    private void WriteAdvice()
    {
        var table = BenchTable.Of(_table);
        var experiment = new AdviceExperiment(table, BenchParameters.Ordinary, _settings);
        var students = options.IsQuick ? 40 : table.Parents.Count;
        var results = experiment.Run(
            new StudentGroup(StudentGroup.FittingSeed, students), new StudentGroup(StudentGroup.ReportingSeed, students));
        new Plots(options.Folder).Minutes(results);
        Write("## What to do next, ordinary bench", AdvicePage.Minutes(results, _sheet), "![Minutes](minutes.svg)");
    }

    private void WriteDetails(BenchTable table, BenchReport ordinary, StudentGroup students)
    {
        foreach (var row in EvidenceSets.NoneRows)
        {
            Write(
                $"### AUROC of none on the ordinary bench, by what is listed: {EvidenceSets.Name(EvidenceSets.Rows[row])}",
                BenchPages.Listing(NoneByListing.Of(table, ordinary.Parameters, ordinary.Results, students, row)));
        }

        Write(
            $"### Hardest compounds on the ordinary bench: {EvidenceSets.Name(EvidenceSets.Rows[EvidenceSets.Everything])}",
            BenchPages.Hardest(HardCompound.Of(
                table, ordinary.Parameters, ordinary.Results, students, EvidenceSets.Everything, HardCompounds)));
    }

    private void WriteLiterature()
    {
        var test = new LiteratureTest(_table, _settings);
        (string Name, IReadOnlyDictionary<string, double> Weights)[] priors =
            [("uniform", test.Alike()), ("commonness", test.Weights(_settings.Commonness))];
        var sets = Enum.GetValues<LiteratureSet>()
            .SelectMany(set => priors.Select(prior => test.Run(set, prior.Name, prior.Weights)))
            .ToList();
        var pages = new LiteraturePages(_sheet);
        Write("## Printed values, reporting half", pages.Methods(sets));
        Write("### Differences on the same values", pages.Differences(sets));
        Write("### Prior by commonness", LiteraturePages.Ratios(test.FitRatio()));
        Write(
            "### Worked identifications",
            pages.Worked(WorkedResult.Run(_table, _settings, WorkedIdentification.Load())));
    }

    private void WriteInformation()
    {
        var table = BenchTable.Of(_table);
        var pieces = EvidenceInformation.Measure(
            table, BenchParameters.Ordinary, _settings, Students(StudentGroup.ReportingSeed, table, options.IsQuick ? 1 : 5));
        new Plots(options.Folder).Information(pieces);
        Write(
            "## Information of each piece of evidence, ordinary bench",
            BenchPages.Information(pieces),
            "![Information](information.svg)");
    }

    private void WriteThermometers()
    {
        var table = BenchTable.Of(_table);
        foreach (var parameters in BenchParameters.All)
        {
            var students = Students(StudentGroup.ReportingSeed, table, options.IsQuick ? 2 : StudentsPerParent);
            Write(
                $"## Thermometers, {parameters.Name} bench",
                ThermometerPage.Rows(parameters.Name, new ThermometerExperiment(table, parameters, _settings).Run(students), _sheet));
        }
    }

    private void WriteDecisions()
    {
        var experiment = new DecisionExperiment(BenchTable.Of(_table), TableSnapshot.Build(_table, _settings));
        var results = ShelfLists.Of(_table)
            .Select(shelf =>
            {
                var result = experiment.Run(shelf, options.IsQuick ? 360 : 1_800);
                log($"{shelf.Name} planned");
                return result;
            })
            .ToList();
        Write(
            "## Decision trees for twelve shelves of twelve",
            "### Unknowns drawn by the engine's forecasts",
            DecisionPage.Rows(results, result => result.Foreseen, "foreseen", _sheet),
            "### Unknowns of the ordinary bench's students",
            DecisionPage.Rows(results, result => result.Met, "ordinary", _sheet),
            "### The shelves",
            DecisionPage.Orders(results));
    }

    private void WriteChecking()
    {
        var experiment = new CheckingExperiment(TableSnapshot.Build(_table, _settings));
        Write(
            "## Values worth checking",
            "### Values set aside, lines among these",
            CheckingPage.Rows(experiment.SetAside(LiteratureValue.SetAside(), [5, 10, 15], amongAll: false), "set-aside", _sheet),
            "### Values set aside, lines among all unread ones",
            CheckingPage.Rows(experiment.SetAside(LiteratureValue.SetAside(), [50, 100, 200], amongAll: true), "among-all", _sheet),
            "### All unread lines, what is printed drawn",
            CheckingPage.Rows(experiment.Drawn(options.IsQuick ? 2 : 10, [50, 100, 200]), "drawn", _sheet));
    }

    private void WriteLearning()
    {
        var experiment = new LearningExperiment(BenchTable.Of(_table), _settings);
        var results = experiment.Run(options.IsQuick ? LearningSize.Quick : LearningSize.Full, log);
        Write(
            "## Learning from classes",
            "### Rates within their 90 % intervals",
            LearningPage.Coverage(results, _sheet),
            "### Log loss of the fourth year",
            LearningPage.Losses(results, _sheet));
    }

    private void Write(params string[] parts)
    {
        foreach (var part in parts)
        {
            _report.Append(part.TrimEnd('\n')).Append("\n\n");
        }
    }

    private static StudentGroup Students(int seed, BenchTable table, int perParent) =>
        new(seed, perParent * table.Parents.Count);
}
