using System.Globalization;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Store.Auditing;

namespace Derivid.Api.Auditing;

/// <summary>Reading the audit log.</summary>
public static class AuditEndpoints
{
    /// <summary>Maps it.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapAudit(this RouteGroupBuilder api) =>
        api.MapGet("/audit", ListAsync)
            .RequireRole(Role.Administrator)
            .WithTags("Audit")
            .WithName("listAuditEntries")
            .WithSummary("Read the audit log")
            .WithDescription(
                "Every write: who, when, what, why, and from which version of the table. Append-only: the database refuses "
                + "to change or delete an entry. Sequence numbers have no gaps, so a missing entry would show. It holds no "
                + "secrets and no unknown's identity. Who wrote a report that is marked anonymously is withheld until its grades are published.")
            .WithQuery<AuditQuery>()
            .Produces<RowPage<AuditItem>>()
            .ProducesProblems(ProblemTypes.StorageUnavailable);

    private static Task<IResult> ListAsync(HttpContext context, AuditTrail audit) =>
        Pager.ListAsync<AuditQuery, AuditEntry, AuditItem>(
            context,
            (query, beyond, most) => audit.ReadAsync(
                new AuditFilter(query.Actor, query.Action, query.Resource),
                beyond is null ? null : long.Parse(beyond, CultureInfo.InvariantCulture),
                query.Order is not AuditOrder.OldestFirst,
                most,
                context.RequestAborted),
            entry => entry.Sequence.ToString(CultureInfo.InvariantCulture),
            text => long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out _),
            entry => new AuditItem(
                entry.Sequence,
                entry.AtUtc,
                entry.Actor,
                entry.Action,
                entry.Resource,
                entry.Reason,
                entry.TableVersion,
                entry.TraceId));
}
