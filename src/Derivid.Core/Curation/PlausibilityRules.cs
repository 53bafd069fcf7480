using Derivid.Core.Compounds;
using Derivid.Core.Estimates;

namespace Derivid.Core.Curation;

/// <summary>Boiling points that the compound's melting point or its structure speak against.</summary>
/// <remarks>The usual reason is a boiling point under reduced pressure whose pressure was lost on the way.</remarks>
internal static class PlausibilityRules
{
    /// <summary>
    /// Most that a boiling point may lie from the estimate. Units: °C, a difference. Chosen: of 177 plausible ones in the
    /// seed tables the furthest lies 57 °C off, with its parent left out of the fit; the seven that were taken out of them lay 75 and more.
    /// </summary>
    private const double MostCelsius = 65;

    public static void Check(ReferenceTable table, List<TableFinding> found)
    {
        var melting = table.Constants.Where(row => row.Property == ParentProperty.MeltingPoint)
            .GroupBy(row => row.ParentKey, StringComparer.Ordinal)
            .ToDictionary(rows => rows.Key, rows => rows.Min(row => row.Low), StringComparer.Ordinal);
        var estimates = BoilingPointEstimates.Of(table);
        foreach (var row in table.Constants.Where(BoilingPointEstimates.IsNormalBoilingPoint))
        {
            var findings = new RecordFindings(
                RecordKinds.ParentConstants, RecordKinds.ParentConstants.KeyOf(row), found);
            if (melting.TryGetValue(row.ParentKey, out var solidBelow))
            {
                findings.Expect(row.High >= solidBelow, nameof(row.Low), row.Low, FormattableString.Invariant(
                    $"not below the melting point, {Figure.Degrees(solidBelow)} °C; perhaps the pressure was reduced: give it, or leave the value out"));
            }

            if (estimates.Of(row.ParentKey) is { } estimate)
            {
                findings.Expect(
                    Math.Abs(((row.Low + row.High) / 2) - estimate.MeanCelsius) <= MostCelsius, nameof(row.High), row.High,
                    FormattableString.Invariant(
                        $"within {MostCelsius} °C of {Figure.Text(estimate.MeanCelsius, decimals: 0)} °C, which the structure suggests; perhaps the pressure was reduced: look at the source again"));
            }
        }
    }
}
