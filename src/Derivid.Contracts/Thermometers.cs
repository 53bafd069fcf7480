using System.ComponentModel.DataAnnotations;
using Derivid.Core.Melting;

namespace Derivid.Contracts;

/// <summary>A thermometer to be registered.</summary>
public sealed record ThermometerRequest
{
    /// <summary>Most characters of a name.</summary>
    public const int LongestName = 100;

    /// <summary>What it is called at the bench, such as what is written on it.</summary>
    [StringLength(LongestName, MinimumLength = 1)]
    public required string Name { get; init; }

    /// <summary>What it is filled with. Missing: an electronic one.</summary>
    public ThreadLiquid? Liquid { get; init; }
}

/// <summary>Standards melted with a registered thermometer.</summary>
public sealed record CalibrationRequest
{
    /// <summary>The standards. See /api/v1/melting-point-standards.</summary>
    [MinLength(1)]
    [MaxLength(20)]
    public required IReadOnlyList<StandardMelted> Standards { get; init; }

    /// <summary>When they were melted (RFC 3339). Missing: now.</summary>
    public DateTimeOffset? MeltedAt { get; init; }
}

/// <summary>A registered thermometer with its calibrations.</summary>
public sealed record ThermometerItem
{
    /// <summary>Its id, to be named in observations.</summary>
    public required string Id { get; init; }

    /// <summary>What it is called at the bench.</summary>
    public required string Name { get; init; }

    /// <summary>What it is filled with. Missing: an electronic one.</summary>
    public ThreadLiquid? Liquid { get; init; }

    /// <summary>Who registered it.</summary>
    public required string RegisteredBy { get; init; }

    /// <summary>When.</summary>
    public required DateTimeOffset RegisteredAt { get; init; }

    /// <summary>Its calibrations, the latest first; that one holds. Shape: at most 50.</summary>
    public required IReadOnlyList<CalibrationItem> Calibrations { get; init; }

    /// <summary>The correction and its error, every 10 °C from 0 to 360 °C. Missing: it was never checked.</summary>
    public IReadOnlyList<CorrectionPoint>? Curve { get; init; }

    /// <summary>What is to be looked to: drift since the calibration before, age, few standards.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }
}

/// <summary>One calibration.</summary>
/// <param name="MeltedAt">When the standards were melted.</param>
/// <param name="By">Who read them.</param>
/// <param name="Standards">The readings, coolest first.</param>
public sealed record CalibrationItem(DateTimeOffset MeltedAt, string By, IReadOnlyList<StandardMelted> Standards);

/// <summary>The correction at one temperature.</summary>
/// <param name="ReadCelsius">The reading. Units: °C.</param>
/// <param name="CorrectionCelsius">To be added to it. Units: °C.</param>
/// <param name="ErrorCelsius">How far it may still be out, one standard deviation, as of today. Units: °C.</param>
public sealed record CorrectionPoint(double ReadCelsius, double CorrectionCelsius, double ErrorCelsius);

/// <summary>A registered thermometer in a list.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">What it is called at the bench.</param>
/// <param name="Liquid">What it is filled with. Missing: an electronic one.</param>
/// <param name="RegisteredBy">Who registered it.</param>
public sealed record ThermometerLink(string Id, string Name, ThreadLiquid? Liquid, string RegisteredBy);
