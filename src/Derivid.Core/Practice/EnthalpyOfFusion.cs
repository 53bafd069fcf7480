using System.Collections.Frozen;
using Derivid.Core.Compounds;

namespace Derivid.Core.Practice;

/// <summary>A printed enthalpy of fusion, with the temperature it belongs to.</summary>
/// <remarks>From <c>seed-tables/enthalpies-of-fusion.csv</c>, whose README describes the columns. Thread safety: immutable.</remarks>
/// <param name="CasNumber">CAS Registry Number of the substance.</param>
/// <param name="Name">Its name as the source prints it.</param>
/// <param name="JoulesPerMole">Units: J/mol.</param>
/// <param name="MeltingKelvin">Its melting point. Units: K.</param>
/// <param name="SourceKey">Source of the enthalpy.</param>
/// <param name="MeltingSourceKey">Source of the melting point.</param>
/// <param name="Verification">How far both were followed back.</param>
public sealed record EnthalpyOfFusion(
    string CasNumber, string Name, double JoulesPerMole, double MeltingKelvin, string SourceKey, string MeltingSourceKey, Verification Verification)
{
    private const string Header =
        "cas_number,name,formula,joules_per_mole,melting_kelvin,source_key,locator,melting_source_key,verification";

    /// <summary>What melts lower is left out of <see cref="Entropies"/>: derivatives do not, and waxes would come in. Units: K.</summary>
    private const double LeastKelvin = 373.15;

    /// <summary>Share left out at either end of <see cref="Entropies"/>.</summary>
    private const double Tail = 0.025;

    /// <summary>All of them. Shape: by name.</summary>
    public static IReadOnlyList<EnthalpyOfFusion> All { get; } = [.. EmbeddedTable.Rows("enthalpies-of-fusion.csv", Header).Select(Read)];

    private static FrozenDictionary<string, EnthalpyOfFusion> ByCasNumber { get; } =
        All.ToFrozenDictionary(row => row.CasNumber, StringComparer.Ordinal);

    /// <summary>The entropies that a bound is made from. Units: J/(mol K). Shape: rising, of what melts at 100 °C or above.</summary>
    public static IReadOnlyList<double> Entropies { get; } =
        [.. All.Where(row => row.MeltingKelvin >= LeastKelvin).Select(row => row.Entropy).Order()];

    /// <summary>Where 95 of 100 entropies of fusion lie. Units: J/(mol K).</summary>
    /// <remarks>
    /// None of the substances is a hydrazone, an oxime or a semicarbazone: that theirs lie there too is assumed. Walden's rule,
    /// 13.5 cal/(mol K) = 56.5 J/(mol K), is near the middle.
    /// </remarks>
    public static AmountSpan UsualEntropy { get; } = new(Quantile(Tail), Quantile(1 - Tail));

    /// <summary>Entropy of fusion. Units: J/(mol K).</summary>
    public double Entropy => JoulesPerMole / MeltingKelvin;

    /// <summary>That of a substance. Missing: null, none is listed.</summary>
    /// <param name="casNumber">Its CAS Registry Number. Missing: null, it has none.</param>
    public static EnthalpyOfFusion? Find(string? casNumber) => casNumber is null ? null : ByCasNumber.GetValueOrDefault(casNumber);

    private static double Quantile(double share) => Entropies[(int)Math.Round(share * (Entropies.Count - 1))];

    private static EnthalpyOfFusion Read(IReadOnlyList<string> cells) => new(
        cells[0],
        cells[1],
        EmbeddedTable.Number(cells[3])!.Value,
        EmbeddedTable.Number(cells[4])!.Value,
        cells[5],
        cells[7],
        EmbeddedTable.Member<Verification>(cells[8])!.Value);
}
