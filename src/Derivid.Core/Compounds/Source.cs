namespace Derivid.Core.Compounds;

/// <summary>Where a value was printed.</summary>
/// <param name="Key">Stable key, lower case with hyphens; unique in a table.</param>
/// <param name="Citation">Full citation, or a plain statement that there is none.</param>
/// <param name="Address">DOI or web address. Missing: null.</param>
/// <param name="Grade">How the source got its values.</param>
/// <param name="Family">
/// Sources with one family may copy each other and are not independent evidence; equal to <paramref name="Key"/>
/// for a source that stands alone.
/// </param>
/// <param name="HowRead">How the value came into the table: memory, page read, data set read.</param>
public sealed record Source(
    string Key,
    string Citation,
    string? Address,
    SourceGrade Grade,
    string Family,
    string HowRead);
