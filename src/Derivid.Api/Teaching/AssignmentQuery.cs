using Derivid.Api.Http;

namespace Derivid.Api.Teaching;

/// <summary>What the list of unknowns handed out can be asked.</summary>
public sealed record AssignmentQuery : RowQuery
{
    /// <summary>Whether to tell what is inside: for graders and further up only. Missing: no.</summary>
    public bool? Identities { get; init; }
}
