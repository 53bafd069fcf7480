using Derivid.Core.Compounds;

namespace Derivid.Api.Table;

/// <summary>Where values were printed.</summary>
/// <param name="Key">Stable key.</param>
/// <param name="Citation">Full citation, or a plain statement that there is none.</param>
/// <param name="Address">DOI or web address. Missing: none.</param>
/// <param name="Grade">How the source got its values.</param>
/// <param name="Family">Sources of one family may copy each other and are not independent evidence.</param>
/// <param name="HowRead">How the values came into the table.</param>
public sealed record SourceItem(
    string Key, string Citation, string? Address, SourceGrade Grade, string Family, SourceReading HowRead)
{
    /// <summary>Translates.</summary>
    /// <param name="source">The row.</param>
    public static SourceItem Of(Source source)
    {
        ArgumentNullException.ThrowIfNull(source);
        return new SourceItem(
            source.Key, source.Citation, source.Address, source.Grade, source.Family, source.HowRead);
    }
}
