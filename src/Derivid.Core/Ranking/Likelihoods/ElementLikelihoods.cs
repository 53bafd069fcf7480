using Derivid.Core.Observations;
using Derivid.Core.Structures;

namespace Derivid.Core.Ranking.Likelihoods;

/// <summary>The elements found or not found, weighed against the parents' formulas.</summary>
internal sealed class ElementLikelihoods : ParentLikelihoods
{
    private readonly TableSnapshot _snapshot;
    private readonly IReadOnlyList<ElementReading> _readings;

    private ElementLikelihoods(TableSnapshot snapshot, IReadOnlyList<ElementReading> readings, ParentValues likelihood)
        : base(EvidenceKind.Elements, null, likelihood)
    {
        _snapshot = snapshot;
        _readings = readings;
    }

    /// <summary>Weighs the elements looked for.</summary>
    public static ElementLikelihoods Weigh(IReadOnlyList<ElementReading> readings, TableSnapshot snapshot)
    {
        var settings = snapshot.Settings;
        var likelihood = ParentValues.OfClasses(snapshot.Classes, (_, parent) =>
        {
            var product = 1.0;
            foreach (var reading in readings)
            {
                var found = Contains(snapshot.Features[parent], reading.Element)
                    ? 1 - settings.ElementFalseNegative
                    : settings.ElementFalsePositive;
                product *= reading.IsPresent ? found : 1 - found;
            }

            return product;
        });

        return new ElementLikelihoods(snapshot, readings, likelihood);
    }

    protected override string Describe(int parent)
    {
        var found = _readings.Where(reading => reading.IsPresent).Select(reading => Name(reading.Element)).ToList();
        var missing = _readings.Where(reading => !reading.IsPresent).Select(reading => Name(reading.Element)).ToList();
        var parts = new List<string>();
        if (found.Count > 0)
        {
            parts.Add($"{string.Join(", ", found)} found");
        }

        if (missing.Count > 0)
        {
            parts.Add($"{string.Join(", ", missing)} not found");
        }

        var parentRow = _snapshot.Parents[parent];
        return $"Elements: {string.Join("; ", parts)}; {parentRow.Name} is {parentRow.Formula}.";
    }

    private static bool Contains(StructureFeature features, DetectableElement element) =>
        features.HasFlag(element switch
        {
            DetectableElement.Nitrogen => StructureFeature.Nitrogen,
            DetectableElement.Sulfur => StructureFeature.Sulfur,
            DetectableElement.Fluorine => StructureFeature.Fluorine,
            DetectableElement.Chlorine => StructureFeature.Chlorine,
            DetectableElement.Bromine => StructureFeature.Bromine,
            DetectableElement.Iodine => StructureFeature.Iodine,
            _ => throw new ArgumentOutOfRangeException(nameof(element), element, "Not an element looked for."),
        });

    private static string Name(DetectableElement element) =>
        element switch
        {
            DetectableElement.Nitrogen => "nitrogen",
            DetectableElement.Sulfur => "sulfur",
            DetectableElement.Fluorine => "fluorine",
            DetectableElement.Chlorine => "chlorine",
            DetectableElement.Bromine => "bromine",
            _ => "iodine",
        };
}
