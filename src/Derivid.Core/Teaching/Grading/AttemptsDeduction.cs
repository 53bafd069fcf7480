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

    /// <summary>Points taken for an attempt.</summary>
    /// <param name="attempt">Its number. Bounds: 1 and more.</param>
    internal decimal Taken(int attempt) => Math.Min(MostPoints, Beyond(attempt) * PointsPerAttempt);

    internal override GradeLine Mark(ReadReport report, Rubric rubric)
    {
        var beyond = Beyond(report.Report.Attempt);
        var points = -Taken(report.Report.Attempt);
        return new GradeLine(
            Kind,
            points,
            0,
            StudentSentences.AttemptsTaken(report.Report.Attempt, FreeAttempts, beyond, PointsPerAttempt, MostPoints, points),
            TellsIdentity: false);
    }

    private int Beyond(int attempt) => Math.Max(0, attempt - FreeAttempts);
}
