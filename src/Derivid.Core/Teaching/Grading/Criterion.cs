using System.Globalization;

namespace Derivid.Core.Teaching.Grading;

/// <summary>One thing a rubric looks at.</summary>
public abstract record Criterion
{
    /// <summary>Which one it is.</summary>
    internal abstract CriterionKind Kind { get; }

    /// <summary>Figures that are out of bounds.</summary>
    internal abstract IEnumerable<RubricFault> Faults();

    /// <summary>Marks a report.</summary>
    internal abstract GradeLine Mark(ReadReport report, Rubric rubric);

    internal IEnumerable<RubricFault> Between(string field, double value, double low, double high)
    {
        // Written so that NaN is a fault too.
        if (!(value >= low && value <= high))
        {
            yield return new RubricFault(
                Kind, field, string.Create(CultureInfo.InvariantCulture, $"{value} must lie from {low} to {high}."));
        }
    }

    internal IEnumerable<RubricFault> PointsBetween(string field, decimal points)
    {
        if (points is < 0 or > Rubric.MostPoints)
        {
            yield return new RubricFault(
                Kind, field, string.Create(CultureInfo.InvariantCulture, $"{points} must lie from 0 to {Rubric.MostPoints}."));
        }
    }

    /// <summary>1 at or below the full figure, 0 at or above the zero figure, in proportion between.</summary>
    internal static double Falling(double value, double full, double zero) =>
        value <= full ? 1 : value >= zero ? 0 : (zero - value) / (zero - full);

    internal static string Text(double value) => value.ToString("0.##", CultureInfo.InvariantCulture).Replace('-', '−');

    internal static string Text(decimal value) => value.ToString("0.##", CultureInfo.InvariantCulture).Replace('-', '−');
}
