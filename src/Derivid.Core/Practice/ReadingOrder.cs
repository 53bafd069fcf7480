using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;

namespace Derivid.Core.Practice;

/// <summary>What is to be melted and what is known of it, or what was read already.</summary>
public sealed record ReadingOrder
{
    /// <summary>The kind of derivative. Missing: null, the compound or the standard itself, or something else.</summary>
    public DerivativeKind? Kind { get; init; }

    /// <summary>The parent. Missing: null, an unknown, or no compound of the table.</summary>
    public Parent? Parent { get; init; }

    /// <summary>The melting-point standard. Missing: null, it is none.</summary>
    public MeltingPointStandard? Standard { get; init; }

    /// <summary>Where it melts when pure; goes before what the table lists. Missing: null, as listed.</summary>
    public MeltingRange? Expected { get; init; }

    /// <summary>What was read, before any correction. Missing: null, nothing yet.</summary>
    public MeltingRange? Read { get; init; }

    /// <summary>What was done to the crystals before they were melted.</summary>
    public Preparation Preparation { get; init; }

    /// <summary>What is known of the thermometer.</summary>
    public ThermometerCorrection Thermometer { get; init; } = ThermometerCorrection.None;

    /// <summary>Where bath or thermometer end. Units: °C. Missing: null, not said.</summary>
    public double? ReachCelsius { get; init; }

    /// <summary>Whether it is known to sublime.</summary>
    public bool Sublimes { get; init; }

    /// <summary>Its enthalpy of fusion; goes before a printed one. Units: J/mol. Missing: null, as printed.</summary>
    public double? JoulesPerMole { get; init; }

    /// <summary>Whether another recrystallisation is worth it. Missing: null, no observation was sent.</summary>
    public RecrystallisationWorth? Worth { get; init; }
}
