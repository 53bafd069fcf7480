namespace Derivid.Client.Table;

/// <summary>Which derivative records to list.</summary>
public sealed record DerivativeFilter
{
    /// <summary>The parent: key, name, synonym or CAS number. Missing: any.</summary>
    public string? Parent { get; init; }

    /// <summary>The derivative kind: key, name or synonym. Missing: any.</summary>
    public string? Kind { get; init; }

    /// <summary>Key of the source. Missing: any.</summary>
    public string? Source { get; init; }

    /// <summary>How far the value was followed back: recalled, read or crossChecked. Missing: any.</summary>
    public string? Verification { get; init; }

    /// <summary>A temperature the listed range must come near; closest records first. Units: °C. Missing: any.</summary>
    public double? NearCelsius { get; init; }

    /// <summary>How near. Units: °C. Missing: 5. Only together with <see cref="NearCelsius"/>.</summary>
    public double? WithinCelsius { get; init; }
}
