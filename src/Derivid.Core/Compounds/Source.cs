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
/// <param name="HowRead">How its values came into the table.</param>
public sealed record Source(
    string Key,
    string Citation,
    string? Address,
    SourceGrade Grade,
    string Family,
    SourceReading HowRead)
{
    private const string Resolver = "https://doi.org/";

    /// <summary>Where it can be opened: its web address, or the resolver's for its DOI.</summary>
    /// <returns>Missing: null, it has no address, or one that no browser opens.</returns>
    public string? Link() => Address is null ? null
        : Address.StartsWith("10.", StringComparison.Ordinal) ? Resolver + Address
        : Uri.TryCreate(Address, UriKind.Absolute, out var address) && (address.Scheme == Uri.UriSchemeHttps || address.Scheme == Uri.UriSchemeHttp) ? Address
        : null;
}

/// <summary>How the values of a source came into the table.</summary>
public enum SourceReading
{
    /// <summary>Recalled; nobody has read the source for the table.</summary>
    Memory,

    /// <summary>The page that prints the value was read.</summary>
    PageRead,

    /// <summary>The openly shown beginning of the page or paper was read.</summary>
    OpeningOfPageRead,

    /// <summary>An excerpt shown elsewhere was read.</summary>
    ExcerptRead,

    /// <summary>The abstract was read.</summary>
    AbstractRead,

    /// <summary>The data set was read by a program.</summary>
    DataSetRead,

    /// <summary>There is nothing to read: chosen, assumed or measured by the project, or common practice.</summary>
    None,
}

/// <summary>How the values of a source came about.</summary>
public enum SourceGrade
{
    /// <summary>Measured by the authors.</summary>
    Measured,

    /// <summary>Collected from other publications.</summary>
    Compiled,

    /// <summary>Collected and critically evaluated.</summary>
    Reviewed,

    /// <summary>Estimated or assumed; says so in its citation.</summary>
    Estimated,
}

/// <summary>How far a printed value has been followed back to where it was printed.</summary>
public enum Verification
{
    /// <summary>Recalled from memory of the named source; nobody has looked it up since.</summary>
    Recalled,

    /// <summary>Read in the named source.</summary>
    Read,

    /// <summary>
    /// Recalled or read, and confirmed: a source of another family prints the same within 3 °C, or it was measured so. See
    /// <see cref="TableAgreement"/>.
    /// </summary>
    CrossChecked,

    /// <summary>Not printed but measured by the project: the record says by whom, with what, how often, mean and spread.</summary>
    Measured,
}
