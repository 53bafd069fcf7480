namespace Derivid.Core.Teaching.Grading;

/// <summary>What one derivative earned and why.</summary>
/// <param name="Share">Bounds: 0 to 1.</param>
/// <param name="Words">What was found, as part of a sentence.</param>
internal sealed record ShareOfKind(double Share, string Words);
