namespace Derivid.Core.Ranking;

/// <summary>How often mixing an unknown with a reagent gives crystals, an oil or nothing.</summary>
/// <remarks>
/// A reaction that works gives crystals, or an oil the sooner the lower the derivative melts; one that fails leaves the
/// unknown, which may itself separate as an oil. Where the table has a spot test with the very reagent, the test's rates
/// stand in for <see cref="ReadyShare"/>, <see cref="SlowShare"/> and <see cref="RingClosingShare"/>.
/// </remarks>
public sealed record PrecipitateSettings
{
    /// <summary>Share of mixings that work, for an aldehyde or ketone that forms the derivative readily.</summary>
    public required double ReadyShare { get; init; }

    /// <summary>The same for methanal, a hindered ketone or an open chain of nine carbons or more.</summary>
    public required double SlowShare { get; init; }

    /// <summary>The same for a 1,3-dicarbonyl compound with a reagent that closes a ring with it.</summary>
    public required double RingClosingShare { get; init; }

    /// <summary>Share of mixings that give crystals of something else: of the reagent, of a contamination.</summary>
    public required double FalseShare { get; init; }

    /// <summary>Share of failed mixings in which an oil separates.</summary>
    public required double OilShare { get; init; }

    /// <summary>Share of oils among the products of a derivative that melts at room temperature.</summary>
    public required double LowMeltingOilShare { get; init; }

    /// <summary>Rise of the melting point that divides that share by e. Units: °C.</summary>
    public required double OilFallCelsius { get; init; }

    /// <summary>Share of oils among the products of a reaction that works.</summary>
    /// <param name="celsius">Listed melting point of the derivative. Units: °C.</param>
    /// <returns>Bounds: 0 to <see cref="LowMeltingOilShare"/>; never rises with the melting point.</returns>
    public double OilsAt(double celsius) =>
        LowMeltingOilShare * Math.Exp(-Math.Max(0, celsius - TableSnapshot.RoomCelsius) / OilFallCelsius);
}
