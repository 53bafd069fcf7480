using Derivid.Core.Observations;

namespace Derivid.Api.Identifications;

/// <summary>What was seen of one derivative.</summary>
public sealed record DerivativeObserved
{
    /// <summary>The kind: key, name or a listed synonym, such as "2,4-DNPH". See /api/v1/derivative-kinds.</summary>
    public required string Kind { get; init; }

    /// <summary>
    /// What came when the reagent was used: crystals, an oil, or none when nothing came of it in the usual time. With an oil
    /// or none there is no range, colour or preparation to give. Missing: crystals where a range is given, else not said.
    /// </summary>
    public Precipitate? Precipitate { get; init; }

    /// <summary>Its melting range as read. Missing: not melted.</summary>
    public RangeObserved? MeltingRange { get; init; }

    /// <summary>What was done to the crystals before they were melted. Missing: unstated.</summary>
    public Preparation? Preparation { get; init; }

    /// <summary>Its colour: key, name or a listed synonym. See /api/v1/colours. Missing: not noted.</summary>
    public string? Colour { get; init; }
}
