namespace Derivid.Client.Identifications;

/// <summary>A temperature range in figures.</summary>
public sealed record RangeInFigures
{
    /// <summary>First liquid seen; for a boiling range its lower end. Units: °C.</summary>
    public required double OnsetCelsius { get; init; }

    /// <summary>Last crystal gone; for a boiling range its upper end. Units: °C.</summary>
    public required double ClearPointCelsius { get; init; }

    /// <summary>Whether it darkened or gave off gas while melting. Missing: false.</summary>
    public bool? Decomposes { get; init; }
}
