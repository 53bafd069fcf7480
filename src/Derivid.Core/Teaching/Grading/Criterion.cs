using System.Globalization;

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
    internal IEnumerable<RubricFault> NotBeyond(string field, double zero, double full, double high)
    {
        if (zero < full + 0.01)
        {
            yield return new RubricFault(
                Kind, field, string.Create(CultureInfo.InvariantCulture, $"{zero} must lie from {full + 0.01} to {high}."));
        }
    }

    /// <summary>1 at or below the full figure, 0 at or above the zero figure, in proportion between.</summary>
    internal static double Falling(double value, double full, double zero) =>
        value <= full ? 1 : value >= zero ? 0 : (zero - value) / (zero - full);

    internal static string Text(double value) => value.ToString("0.##", CultureInfo.InvariantCulture).Replace('-', '−');

    internal static string Text(decimal value) => value.ToString("0.##", CultureInfo.InvariantCulture).Replace('-', '−');
}
