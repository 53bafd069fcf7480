using System.Text.Json.Serialization;
using Derivid.Api.Http;

namespace Derivid.Api.Identifications;

/// <summary>
/// A temperature range, as text the way chemists write it ("125-127 °C", "237-238 dec.", "398 K", "257-261 °F") or as
/// figures.
/// </summary>
/// <param name="Text">As written. Missing: null, given as figures.</param>
/// <param name="Figures">In figures. Missing: null, given as text.</param>
[TextOr(typeof(RangeInFigures))]
[JsonConverter(typeof(RangeObservedConverter))]
public sealed record RangeObserved(string? Text, RangeInFigures? Figures);
