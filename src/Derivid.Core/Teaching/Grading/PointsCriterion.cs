using System.ComponentModel.DataAnnotations;

namespace Derivid.Core.Teaching.Grading;

/// <summary>A criterion that gives a share of its points.</summary>
public abstract record PointsCriterion : Criterion
{
    /// <summary>Most points it gives.</summary>
    [Range(0.0, Rubric.MostPoints)]
    public required decimal Points { get; init; }

    /// <summary>A line that gives a share of the points, rounded to the rubric's step, halves up.</summary>
    internal GradeLine Line(double share, string sentence, Rubric rubric, bool tellsIdentity)
    {
        // Shares are quotients of readings; nine digits keep the last bits of a double from deciding a half.
        var exact = Math.Round((decimal)share, 9) * Points;
        var points = Math.Round(exact / rubric.PointStep, MidpointRounding.AwayFromZero) * rubric.PointStep;
        return new GradeLine(Kind, points, Points, $"{sentence} {Text(points)} of {Text(Points)}.", tellsIdentity);
    }
}
