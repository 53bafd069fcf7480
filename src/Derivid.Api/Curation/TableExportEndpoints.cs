using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;

namespace Derivid.Api.Curation;

/// <summary>Taking a version of the table away, whole or list by list.</summary>
public static class TableExportEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapTableExports(this RouteGroupBuilder api)
    {
        var version = api.MapGroup("/table-versions/{number}").WithTags("Table versions")
            .WithPath("number", "Number of the version.", isNumber: true)
            .WithPath("table", "The list of the table, such as \"derivatives\".")
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.StorageUnavailable);
        Describe(
            version.MapGet("/tables/{table}.csv", (string number, string table, HttpContext context, TableSnapshots tables, SenderTurns turns) =>
                ListAsync(number, table, MediaTypes.Csv, context, tables, turns, TableExport.Csv)),
            MediaTypes.Csv, "exportTableAsCsv", "Export one list of a version as CSV",
            "The columns of the seed tables (RFC 4180, UTF-8). A text that a spreadsheet program would run as a formula has an "
            + "apostrophe in front, which an import takes off again.");
        Describe(
            version.MapGet("/tables/{table}.json", (string number, string table, HttpContext context, TableSnapshots tables, SenderTurns turns) =>
                ListAsync(number, table, MediaTypes.Json, context, tables, turns, TableExport.Json)),
            MediaTypes.Json, "exportTableAsJson", "Export one list of a version as JSON",
            "An array of records, as an import takes it.");
        Describe(
            version.MapGet("/export.zip", (string number, HttpContext context, TableSnapshots tables, SenderTurns turns) =>
                WholeAsync(number, "export", MediaTypes.Zip, context, tables, turns, TableExport.Zip)),
            MediaTypes.Zip, "exportVersionAsZip", "Export a whole version as CSV files in an archive",
            "One file a list, named and laid out as the seed tables are. Versions of equal content give equal bytes.");
        Describe(
            version.MapGet("/data-package.zip", (string number, HttpContext context, TableSnapshots tables, SenderTurns turns) =>
                WholeAsync(number, "data-package", MediaTypes.Zip, context, tables, turns, table => DataPackage.Zip(table, tables.Versions.First(version => version.Number == table.Version)))),
            MediaTypes.Zip, "exportVersionAsDataPackage", "Export a whole version as a data package, to be cited",
            "The same files with datapackage.json beside them (Data Package 2.0, https://datapackage.org): what each column holds and "
            + "in which unit, which names which, licence, sources, and how to cite the version by number, date and hash.");
        Describe(
            version.MapGet("/export.json", (string number, HttpContext context, TableSnapshots tables, SenderTurns turns) =>
                WholeAsync(number, "export", MediaTypes.Json, context, tables, turns, TableExport.Json)),
            MediaTypes.Json, "exportVersionAsJson", "Export a whole version as JSON",
            "One object with an array a list. Versions of equal content give equal bytes.");
    }

    private static void Describe(
        RouteHandlerBuilder endpoint, string type, string name, string summary, string description) =>
        endpoint.WithName(name).WithSummary(summary).WithDescription(description)
            .Produces(StatusCodes.Status200OK, type switch { MediaTypes.Json => typeof(object), MediaTypes.Csv => typeof(string), _ => typeof(byte[]) }, type)
            .Produces(StatusCodes.Status304NotModified);

    private static async Task<IResult> ListAsync(
        string number, string table, string type, HttpContext context, TableSnapshots tables, SenderTurns turns,
        Func<ReferenceTable, RecordKind, byte[]> write) =>
        TableNames.Find(table).Succeeded(out var list, out var problem)
            ? await WholeAsync(number, list.TableName, type, context, tables, turns, whole => write(whole, list))
            : problem;

    private static async Task<IResult> WholeAsync(
        string number, string name, string type, HttpContext context, TableSnapshots tables, SenderTurns turns, Func<ReferenceTable, byte[]> write)
    {
        if (!(await tables.FindNamedAsync(number, context.RequestAborted)).Succeeded(out var version, out var problem))
        {
            return problem;
        }

        await turns.HoldLargeAsync(context);
        return Reply.UnlessKnown(context, version.Table.Version, () => Reply.Bytes(version.Export($"{name} {type}", write), type));
    }
}
