using System.ComponentModel.DataAnnotations;
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
                + "secrets and no unknown's identity.")
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

/// <summary>What the audit log can be asked.</summary>
public sealed record AuditQuery : PageQuery
{
    /// <summary>By whom, exactly as the log names them. Missing: by anyone.</summary>
    [StringLength(500)]
    public string? Actor { get; init; }

    /// <summary>What, exactly, such as "key.revoke". Missing: anything.</summary>
    public string? Action { get; init; }

    /// <summary>To what, exactly, such as "keys/" and a public part. Missing: to anything.</summary>
    [StringLength(500)]
    public string? Resource { get; init; }

    /// <summary>In which order. Missing: newest first.</summary>
    public AuditOrder? Order { get; init; }
}

/// <summary>In which order to read the audit log.</summary>
public enum AuditOrder
{
    /// <summary>What happened lately comes first.</summary>
    NewestFirst,

    /// <summary>From the beginning.</summary>
    OldestFirst,
}
