namespace Derivid.Client.Identifications;

/// <summary>The boiling range of the unknown.</summary>
public sealed record BoilingPointObserved
{
    /// <summary>The range as read.</summary>
    public required RangeObserved Range { get; init; }

    /// <summary>Pressure on the day. Units: kPa. Missing: 101.325, one atmosphere.</summary>
    public double? PressureKilopascals { get; init; }
}
