using Derivid.Store.Teaching;

namespace Derivid.Api.Courses;

/// <summary>An issue worked out, to be kept.</summary>
/// <param name="Issue">The issue.</param>
/// <param name="Assignments">Its unknowns.</param>
public sealed record Issued(UnknownIssue Issue, IReadOnlyList<Assignment> Assignments);
