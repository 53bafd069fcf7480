using Derivid.Api.Http;
using Derivid.Core.Curation;

namespace Derivid.Api.Curation;

/// <summary>Which proposals to list.</summary>
public sealed record ProposalQuery : PageQuery
{
    /// <summary>Only those that have come this far. Missing: all.</summary>
    public ProposalState? State { get; init; }
}
