namespace Derivid.Client.Table;

/// <summary>One printed physical constant of a parent.</summary>
/// <param name="Property">What was measured.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Low">Lower end of the printed span.</param>
/// <param name="High">Upper end, equal to the lower where one figure is printed.</param>
/// <param name="PressureKilopascals">Pressure of a boiling point. Units: kPa. Missing: not a boiling point.</param>
/// <param name="Source">Key of the source.</param>
/// <param name="Locator">Table, page or entry. Missing: not recorded.</param>
/// <param name="Verification">How far the value was followed back.</param>
/// <param name="Note">A curator's remark. Missing: none.</param>
public sealed record ConstantItem(
    string Property,
    string Unit,
    double Low,
    double High,
    double? PressureKilopascals,
    string Source,
    string? Locator,
    string Verification,
    string? Note);
