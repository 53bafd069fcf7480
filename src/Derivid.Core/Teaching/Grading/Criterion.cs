using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Reflection;

namespace Derivid.Core.Teaching.Grading;

/// <summary>One thing a rubric looks at.</summary>
public abstract record Criterion
{
    /// <summary>Which one it is.</summary>
    internal abstract CriterionKind Kind { get; }

    /// <summary>Figures that are out of bounds.</summary>
    internal virtual IEnumerable<RubricFault> Faults() => RubricFault.OutOfBounds(this, Kind);

    /// <summary>Marks a report.</summary>
    internal abstract GradeLine Mark(ReadReport report, Rubric rubric);

    /// <summary>The fault of a figure that earns nothing and doesn't lie beyond the one that earns all.</summary>
    internal IEnumerable<RubricFault> NotBeyond(string field, double zero, double full)
    {
        if (zero < full + 0.01)
        {
            var high = GetType().GetProperty(field)!.GetCustomAttribute<RangeAttribute>()!.Maximum;
            yield return new RubricFault(
                Kind, field, string.Create(CultureInfo.InvariantCulture, $"{zero} must lie from {full + 0.01} to {high}."));
        }
    }

    /// <summary>1 at or below the full figure, 0 at or above the zero figure, in proportion between.</summary>
    internal static double Falling(double value, double full, double zero) =>
        value <= full ? 1 : value >= zero ? 0 : (zero - value) / (zero - full);

    internal static string Text(double value) => Figure.Text(value, decimals: 2);

    internal static string Text(decimal value) => Text((double)value);
}

/// <summary>A criterion that gives a share of its points.</summary>
public abstract record PointsCriterion : Criterion
{
    /// <summary>Most points it gives.</summary>
    [Range(0.0, Rubric.MostPoints)]
    public required decimal Points { get; init; }

    /// <summary>A line that gives a share of the points.</summary>
    /// <param name="share">The share.</param>
    /// <param name="sentence">Why.</param>
    /// <param name="rubric">The rubric.</param>
    /// <param name="tellsIdentity">Whether the sentence gives something of the identity away.</param>
    /// <param name="forStudents">What a student is told in its place. Missing: null, a stock sentence.</param>
    internal GradeLine Line(double share, string sentence, Rubric rubric, bool tellsIdentity, string? forStudents = null)
    {
        var points = PointsFor(share, rubric);
        return new GradeLine(Kind, points, Points, StudentSentences.WithPoints(sentence, points, Points), tellsIdentity)
        {
            ForStudents = forStudents is null || !tellsIdentity ? null : StudentSentences.WithPoints(forStudents, points, Points),
        };
    }

    /// <summary>The points of a share, rounded to the rubric's step, halves up.</summary>
    internal decimal PointsFor(double share, Rubric rubric)
    {
        // Shares are quotients of readings; nine digits keep the last bits of a double from deciding a half.
        var exact = Math.Round((decimal)share, 9) * Points;
        return Math.Round(exact / rubric.PointStep, MidpointRounding.AwayFromZero) * rubric.PointStep;
    }
}

/// <summary>What a rubric gives or takes points for.</summary>
public enum CriterionKind
{
    /// <summary>The compound claimed is the one handed out.</summary>
    RightCompound,

    /// <summary>It is of the same class.</summary>
    RightClass,

    /// <summary>The student's own evidence bears the claim out, right or wrong.</summary>
    SupportedClaim,

    /// <summary>The melting ranges are sharp.</summary>
    RangeWidth,

    /// <summary>The melting ranges lie where the literature puts the compound handed out.</summary>
    RangeDistance,

    /// <summary>Recrystallising improved the melting range.</summary>
    Recrystallisation,

    /// <summary>The spot tests reported fit the claim.</summary>
    TestsFitClaim,

    /// <summary>The spot tests reported fit the compound handed out.</summary>
    TestsFitCompound,

    /// <summary>The written reasoning, marked by hand.</summary>
    WrittenReasoning,

    /// <summary>Attempts beyond those free; takes points.</summary>
    Attempts,

    /// <summary>Handed in past the deadline; takes points.</summary>
    Lateness,
}
