using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Store.Auditing;

namespace Derivid.Api.Curation;

/// <summary>What every write of a proposal brings: who, and for which revision.</summary>
/// <param name="Origin">Who, and why.</param>
/// <param name="Revision">The revision they saw.</param>
internal sealed record ProposalHeaders(AuditOrigin Origin, int Revision)
{
    /// <summary>Reads it.</summary>
    /// <param name="context">A request let in by a policy that asks for a role.</param>
    public static Outcome<ProposalHeaders> Read(HttpContext context) =>
        RequestQuery.Read<NoQuery>(context.Request).Succeeded(out _, out var problem) ? ReadHeaders(context) : problem;

    /// <summary>Reads it, whatever the query.</summary>
    /// <param name="context">A request let in by a policy that asks for a role.</param>
    public static Outcome<ProposalHeaders> ReadHeaders(HttpContext context) =>
        Caller.OriginOf(context).Succeeded(out var origin, out var problem)
        && Revisions.ExpectedBy(context.Request).Succeeded(out var expected, out problem)
            ? new ProposalHeaders(origin, expected.Revision)
            : problem;
}
