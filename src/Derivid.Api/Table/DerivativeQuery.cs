using System.ComponentModel.DataAnnotations;
using Derivid.Core.Compounds;

namespace Derivid.Api.Table;

/// <summary>Which derivative records to list.</summary>
public sealed record DerivativeQuery : PageQuery
{
    /// <summary>Distance allowed when nothing is said. Units: °C.</summary>
    public const double DefaultWithinCelsius = 5;

    /// <summary>The parent: key, name, synonym or CAS number.</summary>
    public string? Parent { get; init; }

    /// <summary>The derivative kind: key, name or synonym.</summary>
    public string? Kind { get; init; }

    /// <summary>Key of the source.</summary>
    public string? SourceKey { get; init; }

    /// <summary>How far the value was followed back.</summary>
    public Verification? Verification { get; init; }

    /// <summary>A temperature the listed range must come near; closest records first. Units: °C.</summary>
    [Range(-200.0, 450.0)]
    public double? Near { get; init; }

    /// <summary>How near. Units: °C. Missing: 5. Only together with near.</summary>
    [Range(0.0, 100.0)]
    public double? Within { get; init; }
}
