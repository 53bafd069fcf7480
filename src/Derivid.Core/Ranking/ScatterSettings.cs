using Derivid.Core.Compounds;

namespace Derivid.Core.Ranking;

/// <summary>How a reading scatters about a listed value: a narrow core, a wide component and gross errors.</summary>
/// <remarks>
/// A single normal is the wrong shape: two listed values of one compound mostly agree within a degree or two, but some
/// are ten degrees apart and a few belong to something else. Units: °C. Thread safety: immutable.
/// </remarks>
public sealed record ScatterSettings
{
    /// <summary>Core scatter of a value only recalled. Units: °C.</summary>
    public required double CoreRecalledCelsius { get; init; }

    /// <summary>Core scatter of a value read in its source. Units: °C.</summary>
    public required double CoreReadCelsius { get; init; }

    /// <summary>Core scatter of a value that two independent sources agree on. Units: °C.</summary>
    public required double CoreCrossCheckedCelsius { get; init; }

    /// <summary>The reader's own error on a sharp range, see <see cref="CareSettings"/>. Units: °C.</summary>
    public required double ReadingCelsius { get; init; }

    /// <summary>Added in quadrature where the value or the reading is one of decomposition. Units: °C.</summary>
    public required double DecompositionCelsius { get; init; }

    /// <summary>Factor on the core scatter of values listed at or above 200 °C.</summary>
    public required double HotFactor { get; init; }

    /// <summary>Share of the wide component.</summary>
    public required double WideShare { get; init; }

    /// <summary>Scatter of the wide component. Units: °C.</summary>
    public required double WideCelsius { get; init; }

    /// <summary>Share of gross errors, even over the working range.</summary>
    public required double GrossShare { get; init; }

    /// <summary>Lower end of the working range. Units: °C.</summary>
    public required double LowestCelsius { get; init; }

    /// <summary>Upper end of the working range. Units: °C.</summary>
    public required double HighestCelsius { get; init; }

    /// <summary>
    /// How many listed values the chance is worth that the compound shows another temperature than the one that is listed.
    /// With n values of which k differ, the chance is w·k/n over w·k/n plus n: it falls with every source, most with those
    /// that agree.
    /// </summary>
    /// <remarks>The predictive rule of a Dirichlet process: T. S. Ferguson, Ann. Stat. 1 (1973) 209 (recalled).</remarks>
    public required double ElsewhereWorth { get; init; }

    /// <summary>Factor on the spread of an estimate where nothing is listed, since such parents are the unusual ones.</summary>
    public required double UnlistedFactor { get; init; }

    /// <summary>Temperature from which <see cref="HotFactor"/> applies. Units: °C.</summary>
    public const double HotFromCelsius = 200;

    /// <summary>Core standard deviation of a reading about one listed value.</summary>
    /// <param name="verification">How far the listed value was followed back.</param>
    /// <param name="isHot">Whether it lies at or above <see cref="HotFromCelsius"/>.</param>
    /// <param name="decomposes">Whether value or reading is one of decomposition.</param>
    /// <param name="readingCelsius">Standard deviation of the reading itself. Units: °C.</param>
    /// <returns>Units: °C.</returns>
    public double CoreCelsius(Verification verification, bool isHot, bool decomposes, double readingCelsius)
    {
        var listed = verification switch
        {
            Verification.CrossChecked => CoreCrossCheckedCelsius,
            Verification.Read => CoreReadCelsius,

            // Chosen: no better than one read. How well own values agree with others' has not been measured.
            Verification.Measured => CoreReadCelsius,
            _ => CoreRecalledCelsius,
        };
        listed *= isHot ? HotFactor : 1;
        var decomposition = decomposes ? DecompositionCelsius : 0;
        return Math.Sqrt((listed * listed) + (readingCelsius * readingCelsius) + (decomposition * decomposition));
    }
}
