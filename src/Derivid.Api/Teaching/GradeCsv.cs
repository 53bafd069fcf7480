using System.Globalization;
using System.Text.Json;
using Derivid.Contracts;
using Derivid.Core.Teaching.Grading;

namespace Derivid.Api.Teaching;

/// <summary>Grades as a CSV file: one row a report and student, points and sentence of every criterion.</summary>
public static class GradeCsv
{
    private static readonly string[] First =
        ["report", "student", "number", "code", "attempt", "counts", "total", "maximum", "rubric", "table_version", "model_version", "comment", "problem"];

    /// <summary>Writes grades.</summary>
    /// <param name="grades">The grades.</param>
    /// <param name="withMarkingCodes">Whether students have marking codes, in a column of their own.</param>
    public static string Write(IReadOnlyList<GradeItem> grades, bool withMarkingCodes)
    {
        ArgumentNullException.ThrowIfNull(grades);
        var criteria = grades.SelectMany(grade => grade.Lines ?? []).Select(line => line.Criterion).Distinct().Order().ToList();
        string[] header =
        [
            .. First,
            .. withMarkingCodes ? new[] { "marking_code" } : [],
            .. criteria.SelectMany(criterion => new[] { Name(criterion), Name(criterion) + "_why" }),
        ];
        return CsvText.Write(header, grades.Select(grade => Row(grade, withMarkingCodes, criteria)));
    }

    private static IReadOnlyList<string?> Row(GradeItem grade, bool withMarkingCodes, List<CriterionKind> criteria) =>
        [
            grade.Report,
            grade.Student,
            grade.Number.ToString(CultureInfo.InvariantCulture),
            grade.Code,
            grade.Attempt.ToString(CultureInfo.InvariantCulture),
            grade.Counts ? "true" : "false",
            grade.Total?.ToString(CultureInfo.InvariantCulture),
            grade.Maximum?.ToString(CultureInfo.InvariantCulture),
            grade.Rubric,
            grade.TableVersion?.ToString(CultureInfo.InvariantCulture),
            grade.ModelVersion,
            grade.Comment,
            grade.Problem,
            .. withMarkingCodes ? new[] { grade.MarkingCode } : [],
            .. criteria.SelectMany(criterion =>
                grade.Lines?.FirstOrDefault(line => line.Criterion == criterion) is { } line
                    ? new string?[] { line.Points.ToString(CultureInfo.InvariantCulture), Why(line) }
                    : [null, null]),
        ];

    /// <summary>Why a line counts what it counts, with what a person said of it.</summary>
    /// <param name="line">The line.</param>
    internal static string Why(GradeLineItem line) => line.Moderation is { } changed
        ? line.ByHand is not null ? $"{line.Sentence} {changed.Reason}"
        : StudentSentences.GivenByHand((decimal)line.Points, (decimal)changed.Computed, (decimal)line.Maximum, changed.Reason, line.Sentence)
        : line.Sentence;

    private static string Name(CriterionKind criterion) => JsonNamingPolicy.SnakeCaseLower.ConvertName(criterion.ToString());
}
