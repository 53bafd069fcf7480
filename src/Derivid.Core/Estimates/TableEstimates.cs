using Derivid.Core.Compounds;

namespace Derivid.Core.Estimates;

/// <summary>What a table foretells of every temperature, listed or not. Worked out once a table version.</summary>
/// <remarks>No estimate looks at the value it foretells. Thread safety: immutable.</remarks>
public sealed class TableEstimates
{
    /// <summary>A compound melting below this is a liquid on the bench. Units: °C. Chosen.</summary>
    public const double RoomCelsius = 20;

    private readonly Dictionary<string, TemperatureEstimate?> _boiling;
    private readonly Dictionary<string, TemperatureEstimate?> _melting;
    private readonly Dictionary<(string ParentKey, string KindKey), TemperatureEstimate?> _derivatives;

    private TableEstimates(ReferenceTable table, BoilingPointEstimates boiling, MeltingPointEstimates melting)
    {
        _boiling = table.Parents.ToDictionary(parent => parent.Key, parent => boiling.Of(parent.Key), StringComparer.Ordinal);
        var (boils, melts) = (Listed(table, ParentProperty.BoilingPoint), Listed(table, ParentProperty.MeltingPoint));
        _melting = table.Parents.ToDictionary(
            parent => parent.Key,
            parent => boils.Contains(parent.Key) && !melts.Contains(parent.Key)
                ? AsLiquid(melting.OfParent(parent.Key))
                : melting.OfParent(parent.Key),
            StringComparer.Ordinal);
        _derivatives = table.Parents
            .SelectMany(parent => table.Kinds.Select(kind => (ParentKey: parent.Key, KindKey: kind.Key)))
            .ToDictionary(pair => pair, pair => melting.OfDerivative(pair.ParentKey, pair.KindKey));
    }

    /// <summary>Fits the estimates to a table.</summary>
    /// <param name="table">The table; its keys are unique.</param>
    public static TableEstimates Of(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        return new TableEstimates(table, BoilingPointEstimates.Of(table), MeltingPointEstimates.Of(table));
    }

    private static TemperatureEstimate? AsLiquid(TemperatureEstimate? estimate) => estimate is { } told
        ? told with { MeanCelsius = Math.Min(told.MeanCelsius, RoomCelsius - (2 * told.ScaleCelsius)) }
        : null;

    private static HashSet<string> Listed(ReferenceTable table, ParentProperty property) =>
        [.. table.Constants.Where(constant => constant.Property == property).Select(constant => constant.ParentKey)];

    /// <summary>Normal boiling point of a parent. Missing: null, no estimate can be made.</summary>
    public TemperatureEstimate? BoilingOf(string parentKey) => _boiling[parentKey];

    /// <summary>
    /// Melting point of a parent. One with a boiling point listed and no melting point is taken for a liquid: compilers print
    /// the melting point of what is a solid (common practice, no source; all 29 such parents of the seed tables are liquids).
    /// Missing: null, no estimate can be made.
    /// </summary>
    public TemperatureEstimate? MeltingOf(string parentKey) => _melting[parentKey];

    /// <summary>Melting point of a derivative. Missing: null, no estimate can be made.</summary>
    public TemperatureEstimate? MeltingOf(string parentKey, string kindKey) => _derivatives[(parentKey, kindKey)];
}
