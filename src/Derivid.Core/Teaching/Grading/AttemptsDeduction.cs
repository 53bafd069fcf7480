namespace Derivid.Core.Teaching.Grading;

/// <summary>Points taken for attempts beyond those free.</summary>
public sealed record AttemptsDeduction : Criterion
{
    internal override CriterionKind Kind => CriterionKind.Attempts;

    /// <summary>Attempts that cost nothing. Bounds: 1 to 100.</summary>
    public int FreeAttempts { get; init; } = 1;

    /// <summary>Points taken for each attempt beyond. Bounds: 0 to 1000.</summary>
    public required decimal PointsPerAttempt { get; init; }

    /// <summary>Most points taken. Bounds: 0 to 1000.</summary>
    public required decimal MostPoints { get; init; }

    internal override IEnumerable<RubricFault> Faults() =>
        [
            .. Between(nameof(FreeAttempts), FreeAttempts, 1, 100),
            .. PointsBetween(nameof(PointsPerAttempt), PointsPerAttempt),
            .. PointsBetween(nameof(MostPoints), MostPoints),
        ];

    internal override GradeLine Mark(ReadReport report, Rubric rubric)
    {
        var beyond = Math.Max(0, report.Report.Attempt - FreeAttempts);
        var points = -Math.Min(MostPoints, beyond * PointsPerAttempt);
        return new GradeLine(
            Kind,
            points,
            0,
            $"Attempt {report.Report.Attempt}, {FreeAttempts} free: {beyond} beyond at {Text(PointsPerAttempt)} each, {Text(MostPoints)} at most. {Text(points)}.",
            TellsIdentity: false);
    }
}
