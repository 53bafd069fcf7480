using System.Globalization;
using Derivid.Api.Http;
using Derivid.Contracts;

namespace Derivid.Api.Table;

/// <summary>The released versions of the reference table.</summary>
public static class TableVersionEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="table">The group of the table.</param>
    public static void MapTableVersions(this RouteGroupBuilder table)
    {
        var versions = table.MapGroup("/table-versions").WithTags("Table versions");
        versions.MapGet("", ListAsync)
            .WithName("listTableVersions")
            .WithSummary("List the versions of the reference table")
            .WithDescription("A released version never changes; every identification names the one it used. Newest first.")
            .WithQuery<TableQuery>()
            .Produces<Page<TableVersionItem>>()
            .Produces(StatusCodes.Status304NotModified);
        versions.MapGet("/{number}", Get)
            .WithPath("number", "Number of the version, from 1.", isNumber: true)
            .WithName("getTableVersion")
            .WithSummary("Get one version of the reference table")
            .WithDescription("When and why it was released, what it holds and the hash of its rows.")
            .Produces<TableVersionItem>()
            .Produces(StatusCodes.Status304NotModified);
    }

    private static Task<IResult> ListAsync(HttpContext context, TableSnapshots tables)
    {
        var versions = tables.Versions;
        return TableReply.ListAsync<TableQuery, TableVersionItem>(
            context, tables, (_, _, _) => versions.Select(v => TableVersionItem.Of(v, versions[0].Number)));
    }

    /// <param name="number">Number of the version, from 1.</param>
    /// <param name="context">The request.</param>
    /// <param name="tables">The tables.</param>
    private static IResult Get(string number, HttpContext context, TableSnapshots tables)
    {
        var versions = tables.Versions;
        if (versions.Count == 0)
        {
            return tables.NotReady;
        }

        var found = int.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out var wanted)
            ? versions.FirstOrDefault(v => v.Number == wanted)
            : null;
        if (found is null)
        {
            return new Problem(ProblemTypes.NotFound, string.Create(
                CultureInfo.InvariantCulture,
                $"{Text.Quoted(number)} is no table version; they run from {versions[^1].Number} to {versions[0].Number}."));
        }

        return Reply.UnlessKnown(
            context, versions[0].Number, () => Reply.Json(TableVersionItem.Of(found, versions[0].Number)));
    }
}
