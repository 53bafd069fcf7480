using System.ComponentModel.DataAnnotations;

namespace Derivid.Core.Teaching.Grading;

/// <summary>Points taken for a report handed in past the deadline, by days of 24 hours begun.</summary>
public sealed record LatenessDeduction : Criterion
{
    internal override CriterionKind Kind => CriterionKind.Lateness;

    /// <summary>What whoever marks anonymously reads of a line of this criterion: its points alone, since the hour a report came tells whose it is.</summary>
    /// <param name="points">Points of the line, 0 or below.</param>
    public static string WithoutHours(decimal points) => points < 0
        ? $"{Text(-points)} points taken for lateness; how late it was is told once grades are published."
        : "Nothing taken for lateness.";

    /// <summary>Lateness that costs nothing. Units: hours.</summary>
    [Range(0.0, 240.0)]
    public double GraceHours { get; init; }

    /// <summary>Points taken for each day of 24 hours begun after the grace.</summary>
    [Range(0.0, Rubric.MostPoints)]
    public required decimal PointsPerDay { get; init; }

    /// <summary>Most points taken.</summary>
    [Range(0.0, Rubric.MostPoints)]
    public required decimal MostPoints { get; init; }

    internal override GradeLine Mark(ReadReport report, Rubric rubric)
    {
        var late = report.Report.Lateness;
        var beyond = late - TimeSpan.FromHours(GraceHours);
        var days = beyond <= TimeSpan.Zero ? 0 : (beyond.Ticks + TimeSpan.TicksPerDay - 1) / TimeSpan.TicksPerDay;
        var points = -Math.Min(MostPoints, days * PointsPerDay);
        var found = late <= TimeSpan.Zero
            ? StudentSentences.InTime()
            : StudentSentences.Late(late.TotalHours, GraceHours);
        return new GradeLine(
            Kind,
            points,
            0,
            StudentSentences.LatenessTaken(found, (int)days, PointsPerDay, MostPoints, points),
            TellsIdentity: false);
    }
}
