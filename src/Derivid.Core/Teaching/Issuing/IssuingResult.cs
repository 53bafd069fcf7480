namespace Derivid.Core.Teaching.Issuing;

/// <summary>Either an issue or the reason why there is none.</summary>
/// <param name="Issuance">The issue. Missing: null, refused.</param>
/// <param name="Refusal">The reason. Missing: null, issued.</param>
public sealed record IssuingResult(Issuance? Issuance, IssuingRefusal? Refusal);
