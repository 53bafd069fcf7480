namespace Derivid.Core.Observations;

/// <summary>A molar mass found for the unknown, by neutralisation equivalent, freezing point or mass spectrum.</summary>
public sealed record MolarMassReading
{
    /// <summary>The lowest molar mass taken. Units: g/mol.</summary>
    public const double LowestGramsPerMole = 20;

    /// <summary>The highest. Units: g/mol.</summary>
    public const double HighestGramsPerMole = 2000;

    /// <summary>The smallest uncertainty taken. Units: g/mol.</summary>
    public const double LeastUncertaintyGramsPerMole = 0.01;

    /// <summary>The largest. Units: g/mol.</summary>
    public const double LargestUncertaintyGramsPerMole = 200;

    /// <summary>Takes a molar mass and its standard uncertainty.</summary>
    /// <param name="gramsPerMole">The value. Units: g/mol. Bounds: 20 to 2000.</param>
    /// <param name="uncertaintyGramsPerMole">One standard deviation. Units: g/mol. Bounds: 0.01 to 200.</param>
    /// <exception cref="ArgumentOutOfRangeException">A figure is NaN or out of bounds.</exception>
    public MolarMassReading(double gramsPerMole, double uncertaintyGramsPerMole)
    {
        if (!(gramsPerMole is >= LowestGramsPerMole and <= HighestGramsPerMole))
        {
            throw new ArgumentOutOfRangeException(
                nameof(gramsPerMole), gramsPerMole,
                FormattableString.Invariant($"Must lie from {LowestGramsPerMole} to {HighestGramsPerMole} g/mol."));
        }

        if (!(uncertaintyGramsPerMole is >= LeastUncertaintyGramsPerMole and <= LargestUncertaintyGramsPerMole))
        {
            throw new ArgumentOutOfRangeException(
                nameof(uncertaintyGramsPerMole), uncertaintyGramsPerMole, FormattableString.Invariant(
                    $"Must lie from {LeastUncertaintyGramsPerMole} to {LargestUncertaintyGramsPerMole} g/mol."));
        }

        GramsPerMole = gramsPerMole;
        UncertaintyGramsPerMole = uncertaintyGramsPerMole;
    }

    /// <summary>The value. Units: g/mol.</summary>
    public double GramsPerMole { get; }

    /// <summary>One standard deviation. Units: g/mol.</summary>
    public double UncertaintyGramsPerMole { get; }
}
