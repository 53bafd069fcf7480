namespace Derivid.Core.Observations;

/// <summary>Whether an element was found in the unknown, as by sodium fusion.</summary>
/// <param name="Element">The element looked for.</param>
/// <param name="IsPresent">Whether it was found.</param>
public sealed record ElementReading(DetectableElement Element, bool IsPresent);

/// <summary>The elements qualitative analysis of an organic compound looks for.</summary>
public enum DetectableElement
{
    /// <summary>Nitrogen.</summary>
    Nitrogen,

    /// <summary>Sulfur.</summary>
    Sulfur,

    /// <summary>Fluorine.</summary>
    Fluorine,

    /// <summary>Chlorine.</summary>
    Chlorine,

    /// <summary>Bromine.</summary>
    Bromine,

    /// <summary>Iodine.</summary>
    Iodine,
}
