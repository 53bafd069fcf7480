using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>The grade of a report.</summary>
public sealed record GradeItem
{
    /// <summary>The report.</summary>
    public required string Report { get; init; }

    /// <summary>The student.</summary>
    public required string Student { get; init; }

    /// <summary>Number of the unknown among the student's.</summary>
    public required int Number { get; init; }

    /// <summary>The code of the unknown.</summary>
    public required string Code { get; init; }

    /// <summary>Which attempt was graded.</summary>
    public required int Attempt { get; init; }

    /// <summary>Name of the rubric. Missing: not graded.</summary>
    public string? Rubric { get; init; }

    /// <summary>Version of the reference table. Missing: not graded.</summary>
    public int? TableVersion { get; init; }

    /// <summary>Version of the ranking model. Missing: not graded.</summary>
    public string? ModelVersion { get; init; }

    /// <summary>Points in all, never below 0. Missing: not graded.</summary>
    public double? Total { get; init; }

    /// <summary>Most points. Missing: not graded.</summary>
    public double? Maximum { get; init; }

    /// <summary>Every criterion. Missing: not graded.</summary>
    public IReadOnlyList<GradeLineItem>? Lines { get; init; }

    /// <summary>Why it could not be graded. Missing: it could, or is not done yet.</summary>
    public string? Problem { get; init; }

    /// <summary>Translates.</summary>
    /// <param name="graded">The report and its grade.</param>
    /// <param name="tellsIdentities">Whether answers may be told.</param>
    public static GradeItem Of(GradedReport graded, bool tellsIdentities)
    {
        ArgumentNullException.ThrowIfNull(graded);
        var grade = graded.Grade is { } kept ? ReportGrading.Kept(kept) : null;
        return new GradeItem
        {
            Report = graded.Report.Id,
            Student = graded.Report.StudentKey,
            Number = graded.Report.Number,
            Code = graded.Assignment.Code,
            Attempt = graded.Report.Attempt,
            Rubric = grade?.RubricName,
            TableVersion = grade?.TableVersion,
            ModelVersion = grade?.ModelVersion,
            Total = (double?)grade?.Total,
            Maximum = (double?)grade?.Maximum,
            Lines = grade is null ? null : [.. grade.Lines.Select(line => GradeLineItem.Of(line, tellsIdentities))],
            Problem = tellsIdentities ? graded.Problem : graded.Problem is null ? null : "It could not be graded; ask your instructor.",
        };
    }
}
