using System.ComponentModel.DataAnnotations;

namespace Derivid.Core.Teaching.Grading;

/// <summary>Points taken for attempts beyond those free.</summary>
public sealed record AttemptsDeduction : Criterion
{
    internal override CriterionKind Kind => CriterionKind.Attempts;

    /// <summary>Attempts that cost nothing.</summary>
    [Range(1, 100)]
    public int FreeAttempts { get; init; } = 1;

    /// <summary>Points taken for each attempt beyond.</summary>
    [Range(0.0, Rubric.MostPoints)]
    public required decimal PointsPerAttempt { get; init; }

    /// <summary>Most points taken.</summary>
    [Range(0.0, Rubric.MostPoints)]
    public required decimal MostPoints { get; init; }

    internal override GradeLine Mark(ReadReport report, Rubric rubric)
    {
        var beyond = Math.Max(0, report.Report.Attempt - FreeAttempts);
        var points = -Math.Min(MostPoints, beyond * PointsPerAttempt);
        return new GradeLine(
            Kind,
            points,
            0,
            StudentSentences.AttemptsTaken(report.Report.Attempt, FreeAttempts, beyond, PointsPerAttempt, MostPoints, points),
            TellsIdentity: false);
    }
}
