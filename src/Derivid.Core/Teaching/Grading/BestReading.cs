using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Teaching.Grading;

/// <summary>The range of one derivative that counts.</summary>
/// <param name="Kind">The derivative kind.</param>
/// <param name="AsRead">The range as read.</param>
/// <param name="Corrected">After the thermometer's correction.</param>
internal sealed record BestReading(KindSnapshot Kind, MeltingRange AsRead, MeltingRange Corrected)
{
    /// <summary>The range listed for a compound that is nearest to the clear point. Missing: null, none is listed.</summary>
    public ListedTemperature? NearestListed(int parent) =>
        Kind.Listed.Nearest(parent, Corrected.ClearPointCelsius);

    /// <summary>The range that counts of every derivative of an observation. Shape: in order of the kinds' keys.</summary>
    public static IReadOnlyList<BestReading> Of(Observation observation, TableSnapshot snapshot) =>
        [.. observation.Derivatives
            .Where(reading => reading.Range is not null)
            .GroupBy(reading => reading.KindKey, StringComparer.Ordinal)
            .OrderBy(group => group.Key, StringComparer.Ordinal)
            .Select(group => (group.Key, Range: group.Order(MostCarefulFirst.Order).First().Range!.Value))
            .Select(item => new BestReading(
                snapshot.Kind(item.Key), item.Range, observation.Thermometer.Apply(item.Range)))];
}
