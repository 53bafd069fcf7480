
namespace Derivid.Api.Http;

/// <summary>Problems an endpoint may answer with; several add up.</summary>
/// <param name="Types">The problems.</param>
public sealed record ProblemsAnswered(IReadOnlyList<ProblemType> Types);
