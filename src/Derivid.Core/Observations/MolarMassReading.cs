namespace Derivid.Core.Observations;

/// <summary>A molar mass found for the unknown, by neutralisation equivalent, freezing point or mass spectrum.</summary>
public sealed record MolarMassReading
{
    /// <summary>Takes a molar mass and its standard uncertainty.</summary>
    /// <param name="gramsPerMole">The value. Units: g/mol. Bounds: 20 to 2000.</param>
    /// <param name="uncertaintyGramsPerMole">One standard deviation. Units: g/mol. Bounds: 0.01 to 200.</param>
    /// <exception cref="ArgumentOutOfRangeException">A figure is NaN or out of bounds.</exception>
    public MolarMassReading(double gramsPerMole, double uncertaintyGramsPerMole)
    {
        if (!(gramsPerMole is >= 20 and <= 2000))
        {
            throw new ArgumentOutOfRangeException(
                nameof(gramsPerMole), gramsPerMole, "Must lie from 20 to 2000 g/mol.");
        }

        if (!(uncertaintyGramsPerMole is >= 0.01 and <= 200))
        {
            throw new ArgumentOutOfRangeException(
                nameof(uncertaintyGramsPerMole), uncertaintyGramsPerMole, "Must lie from 0.01 to 200 g/mol.");
        }

        GramsPerMole = gramsPerMole;
        UncertaintyGramsPerMole = uncertaintyGramsPerMole;
    }

    /// <summary>The value. Units: g/mol.</summary>
    public double GramsPerMole { get; }

    /// <summary>One standard deviation. Units: g/mol.</summary>
    public double UncertaintyGramsPerMole { get; }
}
