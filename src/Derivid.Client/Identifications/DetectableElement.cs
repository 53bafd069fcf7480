namespace Derivid.Client.Identifications;

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
