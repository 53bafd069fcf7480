using Derivid.Api.Http;

namespace Derivid.Api.Identifications;

/// <summary>What became of one item of a batch: an identification or a problem.</summary>
/// <param name="Reference">The sender's own label. Missing: none was given, or it could not be read.</param>
/// <param name="Identification">The identification. Missing: there is a problem.</param>
/// <param name="Problem">Why it was refused. Missing: it was identified.</param>
public sealed record BatchResult(string? Reference, IdentificationResponse? Identification, ProblemBody? Problem);
