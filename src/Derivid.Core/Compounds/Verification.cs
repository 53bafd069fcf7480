namespace Derivid.Core.Compounds;

/// <summary>How far a printed value has been followed back to where it was printed.</summary>
public enum Verification
{
    /// <summary>Recalled from memory of the named source; nobody has looked it up since.</summary>
    Recalled,

    /// <summary>Read in the named source.</summary>
    Read,

    /// <summary>
    /// Recalled or read, and confirmed: a source of another family prints the same within 3 °C. See
    /// <see cref="TableAgreement"/>.
    /// </summary>
    CrossChecked,
}
