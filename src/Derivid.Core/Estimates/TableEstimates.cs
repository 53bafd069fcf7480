using Derivid.Core.Compounds;

namespace Derivid.Core.Estimates;

/// <summary>What a table foretells of every temperature, listed or not. Worked out once a table version.</summary>
/// <remarks>No estimate looks at the value it foretells. Thread safety: immutable.</remarks>
public sealed class TableEstimates
{
    /// <summary>A compound melting below this is a liquid on the bench. Units: °C. Chosen.</summary>
    public const double RoomCelsius = 20;

    private readonly Dictionary<string, int> _places;
    private readonly TemperatureEstimate?[] _boiling;
    private readonly TemperatureEstimate?[] _melting;
    private readonly Dictionary<string, TemperatureEstimate?[]> _derivatives;

    private TableEstimates(ReferenceTable table, BoilingPointEstimates boiling, MeltingPointEstimates melting)
    {
        _places = table.Parents.Select((parent, place) => (parent.Key, place)).ToDictionary(StringComparer.Ordinal);
        _boiling = [.. table.Parents.Select(parent => boiling.Of(parent.Key))];
        var (boils, melts) = (Listed(table, ParentProperty.BoilingPoint), Listed(table, ParentProperty.MeltingPoint));
        _melting =
        [
            .. table.Parents.Select(parent => boils.Contains(parent.Key) && !melts.Contains(parent.Key)
                ? AsLiquid(melting.OfParent(parent.Key))
                : melting.OfParent(parent.Key)),
        ];
        _derivatives = table.Kinds.ToDictionary(
            kind => kind.Key,
            TemperatureEstimate?[] (kind) => [.. table.Parents.Select(parent => melting.OfDerivative(parent.Key, kind.Key))],
            StringComparer.Ordinal);
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
    public TemperatureEstimate? BoilingOf(string parentKey) => _boiling[_places[parentKey]];

    /// <summary>
    /// Melting point of a parent. One with a boiling point listed and no melting point is taken for a liquid: compilers print
    /// the melting point of what is a solid (common practice, no source; all 29 such parents of the seed tables are liquids).
    /// Missing: null, no estimate can be made.
    /// </summary>
    public TemperatureEstimate? MeltingOf(string parentKey) => _melting[_places[parentKey]];

    /// <summary>Melting point of a derivative. Missing: null, no estimate can be made.</summary>
    public TemperatureEstimate? MeltingOf(string parentKey, string kindKey) => _derivatives[kindKey][_places[parentKey]];
}
