using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Compounds;

namespace Derivid.Api.Table;

/// <summary>The parents of the reference table.</summary>
public static class ParentEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="table">The group of the table.</param>
    public static void MapParents(this RouteGroupBuilder table)
    {
        var parents = table.MapGroup("/parents").WithTags("Parents");
        parents.MapGet("", ListAsync)
            .WithName("listParents")
            .WithSummary("List the parent compounds")
            .WithDescription("The carbonyl compounds an unknown may turn out to be, in order of their keys.")
            .WithQuery<ParentQuery>()
            .Produces<Page<Parent>>()
            .Produces(StatusCodes.Status304NotModified);
        parents.MapGet("/{key}", GetAsync)
            .WithName("getParent")
            .WithSummary("Get one parent compound")
            .WithDescription(
                "The compound with its physical constants and all its derivative records. The key may also be a name, "
                + "a listed synonym or a CAS number.")
            .WithQuery<VersionQuery>()
            .Produces<ParentDetail>()
            .Produces(StatusCodes.Status304NotModified);
    }

    private static Task<IResult> ListAsync(HttpContext context, TableSnapshots tables) =>
        TableReply.ListAsync<ParentQuery, Parent>(context, tables, Select);

    /// <param name="key">Key, name, listed synonym or CAS number of the parent.</param>
    /// <param name="context">The request.</param>
    /// <param name="tables">The tables.</param>
    private static Task<IResult> GetAsync(string key, HttpContext context, TableSnapshots tables) =>
        TableReply.OneAsync(context, tables, table => table.Parents.Find(key) is { } found
            ? (ParentDetail.Of(table, found), "")
            : (null, table.Parents.Unknown(key)));

    private static IEnumerable<Parent> Select(ParentQuery query, ServedTable table, FieldErrors errors)
    {
        IEnumerable<Parent> rows = table.Table.Parents;
        if (query.DerivativeKind is { } name)
        {
            var kind = table.Kinds.Find(name);
            if (kind is null)
            {
                errors.Add("?derivativeKind", table.Kinds.Unknown(name));
            }

            var having = table.Table.Derivatives.Where(d => d.KindKey == kind).Select(d => d.ParentKey).ToHashSet();
            rows = rows.Where(p => having.Contains(p.Key));
        }

        return rows
            .Where(p => query.Kind is null || p.Kind == query.Kind)
            .Where(p => query.Formula is null || p.Formula == query.Formula)
            .Where(p => query.Q is null || Mentions(p, query.Q));
    }

    private static bool Mentions(Parent parent, string letters) =>
        new[] { parent.Name, parent.Key, parent.CasNumber, parent.Formula }
            .Concat(parent.Synonyms)
            .Any(text => text.Contains(letters, StringComparison.OrdinalIgnoreCase));
}

/// <summary>Which parents to list.</summary>
public sealed record ParentQuery : PageQuery
{
    /// <summary>Letters that name, synonym, key, CAS number or formula must hold, in either case.</summary>
    public string? Q { get; init; }

    /// <summary>The carbonyl function it brings.</summary>
    public ParentKind? Kind { get; init; }

    /// <summary>Molecular formula in Hill order, exactly.</summary>
    public string? Formula { get; init; }

    /// <summary>A derivative kind (key, name or synonym) the parent must have a record of.</summary>
    public string? DerivativeKind { get; init; }
}
