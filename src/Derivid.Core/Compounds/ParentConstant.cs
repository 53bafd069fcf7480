namespace Derivid.Core.Compounds;

/// <summary>One printed boiling point, melting point or enthalpy of fusion of a parent.</summary>
/// <param name="ParentKey">The parent it belongs to.</param>
/// <param name="Property">What was measured, which also settles the unit.</param>
/// <param name="Low">Lower end of the printed span. Units: see <see cref="ParentProperty"/>.</param>
/// <param name="High">Upper end of the printed span, equal to <paramref name="Low"/> where one figure is printed.</param>
/// <param name="PressureKilopascals">Pressure of a boiling point. Units: kPa. Missing: null for other properties.</param>
/// <param name="SourceKey">The source that prints it.</param>
/// <param name="Locator">Table, page or entry in the source. Missing: null.</param>
/// <param name="Verification">How far it was followed back.</param>
/// <param name="Note">A curator's remark. Missing: null.</param>
public sealed record ParentConstant(
    string ParentKey,
    ParentProperty Property,
    double Low,
    double High,
    double? PressureKilopascals,
    string SourceKey,
    string? Locator,
    Verification Verification,
    string? Note);
