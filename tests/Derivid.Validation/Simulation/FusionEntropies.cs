using Derivid.Core.Compounds;

namespace Derivid.Validation.Simulation;

/// <summary>Entropies of fusion to draw from: those of the table's parents with an enthalpy and a temperature.</summary>
/// <remarks>
/// No enthalpies of fusion of the derivatives were found, so those of the parents stand in, as entropies, which vary less
/// with size than enthalpies do.
/// </remarks>
public static class FusionEntropies
{
    /// <summary>Below this a crystal is plastic, which flat derivatives are not. Units: J/(mol·K). Chosen.</summary>
    private const double LeastEntropy = 30;

    /// <summary>Gathers the entropies.</summary>
    /// <returns>Units: J/(mol·K). Shape: rising, at least one.</returns>
    public static double[] Of(ReferenceTable table)
    {
        var melting = table.Constants
            .Where(constant => constant.Property == ParentProperty.MeltingPoint)
            .GroupBy(constant => constant.ParentKey, StringComparer.Ordinal)
            .ToDictionary(group => group.Key, group => group.First().High + 273.15, StringComparer.Ordinal);
        var entropies = table.Constants
            .Where(constant => constant.Property == ParentProperty.EnthalpyOfFusion
                && melting.ContainsKey(constant.ParentKey))
            .Select(constant => constant.High / melting[constant.ParentKey])
            .Where(entropy => entropy >= LeastEntropy)
            .Order()
            .ToArray();
        return entropies.Length > 0
            ? entropies
            : throw new ArgumentException("The table has no enthalpy of fusion.", nameof(table));
    }
}
