using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>A hand-out of unknowns. As secret as the answers.</summary>
/// <param name="Number">First, second ... hand-out of the course, from 1.</param>
/// <param name="Seed">The secret it was drawn from. Whoever has it, roster and shelf list can work out every answer.</param>
/// <param name="TableVersion">Version of the reference table it was made on.</param>
/// <param name="ModelVersion">Version of the ranking model it was made with.</param>
/// <param name="HandedOutAt">When (RFC 3339, UTC).</param>
/// <param name="Summary">Rules, and what came of them.</param>
public sealed record HandOutItem(
    int Number, string Seed, int TableVersion, string ModelVersion, DateTime HandedOutAt, HandOutSummary Summary)
{
    /// <summary>Translates.</summary>
    /// <param name="handOut">The hand-out.</param>
    public static HandOutItem Of(StoredHandOut handOut)
    {
        ArgumentNullException.ThrowIfNull(handOut);
        return new HandOutItem(
            handOut.Number,
            handOut.Seed,
            handOut.TableVersion,
            handOut.ModelVersion,
            handOut.HandedOutAtUtc,
            JsonSerializer.Deserialize(handOut.SummaryJson, WireJson.Context.HandOutSummary)!);
    }
}
