namespace Derivid.Core.Compounds;

/// <summary>How a substance comes to lie among the crystals of a derivative.</summary>
public enum ByProductRole
{
    /// <summary>The reagent itself, unreacted.</summary>
    Reagent,

    /// <summary>A salt of the reagent, as it is weighed out.</summary>
    ReagentSalt,

    /// <summary>Something the reagent gives by itself or with the parent.</summary>
    ByProduct,
}

/// <summary>One printed melting point of something that may be taken for a derivative.</summary>
/// <remarks>From <c>seed-tables/by-products.csv</c>, whose README describes the columns. Thread safety: immutable.</remarks>
/// <param name="KindKey">The kind of derivative it may be taken for.</param>
/// <param name="Substance">Its name.</param>
/// <param name="Role">How it comes there.</param>
/// <param name="ParentKey">The only parent that gives it. Missing: null, any parent.</param>
/// <param name="LowCelsius">Lower end of the printed range. Units: °C.</param>
/// <param name="HighCelsius">Upper end, equal to the lower where one figure is printed. Units: °C.</param>
/// <param name="Decomposes">Whether the source says it melts with decomposition.</param>
/// <param name="SourceKey">The source that prints the range.</param>
/// <param name="Locator">Entry or section in the source. Missing: null.</param>
/// <param name="Verification">How far the value was followed back.</param>
/// <param name="Note">A curator's remark. Missing: null.</param>
public sealed record ByProduct(
    string KindKey,
    string Substance,
    ByProductRole Role,
    string? ParentKey,
    double LowCelsius,
    double HighCelsius,
    bool Decomposes,
    string SourceKey,
    string? Locator,
    Verification Verification,
    string? Note)
{
    private const string Header =
        "kind_key,substance,role,parent_key,low_celsius,high_celsius,decomposes,source_key,locator,verification,note";

    /// <summary>All of them. Shape: by kind, then substance; two sources that differ are two entries.</summary>
    public static IReadOnlyList<ByProduct> All { get; } = [.. EmbeddedTable.Rows("by-products.csv", Header).Select(Read)];

    /// <summary>Whether a clear point is that of this substance, as near as one can read it.</summary>
    /// <param name="clearPointCelsius">Corrected clear point. Units: °C.</param>
    /// <param name="withinCelsius">Furthest from the printed range. Units: °C, a difference.</param>
    public bool MeltsNear(double clearPointCelsius, double withinCelsius) =>
        clearPointCelsius >= LowCelsius - withinCelsius && clearPointCelsius <= HighCelsius + withinCelsius;

    private static ByProduct Read(IReadOnlyList<string> cells) => new(
        cells[0],
        cells[1],
        EmbeddedTable.Member<ByProductRole>(cells[2])!.Value,
        EmbeddedTable.OrNull(cells[3]),
        EmbeddedTable.Number(cells[4])!.Value,
        EmbeddedTable.Number(cells[5])!.Value,
        cells[6] == "yes",
        cells[7],
        EmbeddedTable.OrNull(cells[8]),
        EmbeddedTable.Member<Verification>(cells[9])!.Value,
        EmbeddedTable.OrNull(cells[10]));
}
