namespace Derivid.Core.Teaching.HandOuts;

/// <summary>A student of a roster and where they work.</summary>
/// <param name="StudentKey">The institution's own identifier. Shape: 1 to 64 characters; unique in a roster.</param>
/// <param name="Bench">The bench. Missing: null, no fixed place.</param>
/// <param name="Place">
/// Place along the bench; places whose numbers differ by 1 are beside each other. Missing: null, no fixed place.
/// </param>
public sealed record Seat(string StudentKey, string? Bench = null, int? Place = null);
