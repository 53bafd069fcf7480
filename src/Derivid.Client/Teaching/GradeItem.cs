namespace Derivid.Client.Teaching;

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
}
