using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Compounds;

namespace Derivid.Api.Table;

/// <summary>The derivative records of the reference table.</summary>
public static class DerivativeEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="table">The group of the table.</param>
    public static void MapDerivatives(this RouteGroupBuilder table)
    {
        var derivatives = table.MapGroup("/derivatives").WithTags("Derivatives");
        derivatives.MapGet("", ListAsync)
            .TakesTurns()
            .WithName("listDerivatives")
            .WithSummary("List the derivative records")
            .WithDescription(
                "Every printed melting range, one record a source, in order of their keys; with near, closest first. "
                + "Sources that disagree are all listed.")
            .WithQuery<DerivativeQuery>()
            .Produces<Page<DerivativeItem>>()
            .Produces(StatusCodes.Status304NotModified);
    }

    private static Task<IResult> ListAsync(HttpContext context, TableSnapshots tables) =>
        TableReply.ListAsync<DerivativeQuery, DerivativeItem>(context, tables, Select);

    private static IEnumerable<DerivativeItem> Select(DerivativeQuery query, ServedTable table, FieldErrors errors)
    {
        var parent = Key(table.Parents, query.Parent, "?parent", errors);
        var kind = Key(table.Kinds, query.Kind, "?kind", errors);
        if (query.SourceKey is { } source && table.Table.Sources.All(s => s.Key != source))
        {
            errors.Add("?sourceKey", $"{Text.Quoted(source)} is no source of this table; see /api/v1/sources.");
        }

        if (query.Within is not null && query.Near is null)
        {
            errors.Add("?within", "Means nothing without near; give near as well.");
        }

        var rows = table.Table.Derivatives
            .Where(d => parent is null || d.ParentKey == parent)
            .Where(d => kind is null || d.KindKey == kind)
            .Where(d => query.SourceKey is null || d.SourceKey == query.SourceKey)
            .Where(d => query.Verification is null || d.Verification == query.Verification);
        if (query.Near is { } near)
        {
            rows = rows
                .Where(d => Distance(d, near) <= (query.Within ?? DerivativeQuery.DefaultWithinCelsius))
                .OrderBy(d => Distance(d, near))
                .ThenBy(d => d.Key, StringComparer.Ordinal);
        }

        return rows.Select(d => DerivativeItem.Of(d, table));
    }

    private static string? Key(NameIndex names, string? name, string place, FieldErrors errors)
    {
        var key = name is null ? null : names.Find(name);
        if (name is not null && key is null)
        {
            errors.Add(place, names.Unknown(name));
        }

        return key;
    }

    // Zero inside the printed range. Units: °C.
    private static double Distance(Derivative derivative, double celsius) =>
        Math.Max(0, Math.Max(derivative.LowCelsius - celsius, celsius - derivative.HighCelsius));
}
