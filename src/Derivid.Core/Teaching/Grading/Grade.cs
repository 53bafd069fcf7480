namespace Derivid.Core.Teaching.Grading;

/// <summary>The points of one report under one rubric, each with its sentence.</summary>
/// <remarks>The same report, unknown, rubric, table version and settings give the same grade.</remarks>
public sealed record Grade
{
    /// <summary>Name of the rubric.</summary>
    public required string RubricName { get; init; }

    /// <summary>Version of the reference table used.</summary>
    public required int TableVersion { get; init; }

    /// <summary>Version of the ranking model used.</summary>
    public required string ModelVersion { get; init; }

    /// <summary>The criteria. Shape: those of the rubric, in the order of <see cref="CriterionKind"/>.</summary>
    public required IReadOnlyList<GradeLine> Lines { get; init; }

    /// <summary>Sum of the points, but never below 0.</summary>
    public decimal Total => Math.Max(0, Lines.Sum(line => line.Points));

    /// <summary>Sum of the most points.</summary>
    public decimal Maximum => Lines.Sum(line => line.Maximum);
}
