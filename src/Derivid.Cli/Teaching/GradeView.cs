using Derivid.Contracts;
using Derivid.Core;
using Spectre.Console;

namespace Derivid.Cli.Teaching;

/// <summary>Shows grades.</summary>
internal static class GradeView
{
    public static void Write(IAnsiConsole console, GradingResult result, bool explain)
    {
        if (explain)
        {
            WriteLines(console, result.Grades);
        }
        else
        {
            WriteTable(console, result.Grades);
        }

        // A report of a group is there once for each of its members.
        var reports = result.Grades.DistinctBy(grade => grade.Report).ToList();
        var graded = reports.Count(grade => grade.Total is not null);
        var grading = result.Grading;
        console.WriteLine(
            $"grading {grading.Id}, table version {Figures.Plain(grading.TableVersion)}, model {grading.ModelVersion}: "
            + $"{Figures.Plain(graded)} graded, {Figures.Plain(reports.Count - graded)} could not be");
    }

    private static void WriteTable(IAnsiConsole console, IReadOnlyList<GradeItem> grades)
    {
        var (withNames, withCodes) = (grades.All(grade => grade.Student is not null), grades.Any(grade => grade.MarkingCode is not null));
        var table = Screen.NewTable([.. Whose("student", "marking code").OfType<string>(), "unknown", "report", "attempt", "points", "of", "problem"]);
        foreach (var grade in grades)
        {
            table.AddTexts(
            [
                .. Whose(grade.Student, grade.MarkingCode),
                grade.Unknown,
                grade.Report,
                Figures.Plain(grade.Attempt),
                Points(grade.Total),
                Points(grade.Maximum),
                grade.Problem,
            ]);
        }

        string?[] Whose(string? name, string? code) => [.. withNames ? [name] : Array.Empty<string?>(), .. withCodes ? [code] : Array.Empty<string?>()];

        console.Write(table);
    }

    private static void WriteLines(IAnsiConsole console, IReadOnlyList<GradeItem> grades)
    {
        foreach (var grade in grades)
        {
            console.Write(new Text(
                $"{grade.Whose}{(grade is { Student: not null, MarkingCode: { } code } ? $" ({code})" : "")}, {grade.Unknown}: {grade.Problem ?? Figure.Points(grade.Total ?? 0, grade.Maximum ?? 0) + " points"}\n",
                new Style(decoration: Decoration.Bold)));
            foreach (var line in grade.Lines ?? [])
            {
                console.WriteLine($"  {Figure.Points(line.Points, line.Maximum)}  {WireJson.Word(line.Criterion)}: {line.Sentence}");
                if (line.Moderation is { } changed)
                {
                    console.WriteLine(
                        $"      by hand, worked out were {Figure.Text(changed.Computed, 2)}{(changed.IsOutdated ? ", others than when it was changed" : "")}: {changed.Reason}");
                }
            }

            if (grade.Comment is { } comment)
            {
                console.WriteLine($"  {comment}");
            }

            console.WriteLine();
        }
    }

    private static string Points(double? points) => points is { } number ? Figures.Plain(number) : "";
}

/// <summary>Follows a grading to its end, with a progress bar where somebody looks.</summary>
internal static class GradingProgressBar
{
    public static Task<GradingStatus> FollowAsync(
        Session session, string course, GradingStatus started, CancellationToken cancellationToken) =>
        session.FollowAsync(
            session.Client.Grades.FollowAsync(course, started.Id, cancellationToken),
            started,
            grading => grading.State == GradingState.Finished ? 1 : (double)grading.Done / Math.Max(1, grading.Total),
            grading => $"{Figures.Plain(grading.Done)} of {Figures.Plain(grading.Total)} reports",
            cancellationToken);
}
