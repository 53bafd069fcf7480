using System.Globalization;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Page.Curation;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace Derivid.Page.Hosting;

/// <summary>Files of the service that a browser fetches with the session of the page, which opens no address of the interface.</summary>
internal static class Downloads
{
    /// <summary>Maps them.</summary>
    /// <param name="routes">The routes.</param>
    public static void MapDownloads(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/table/{version:int}/{list}.csv", (int version, string list, HttpContext context, DerividClient client) =>
                WriteAsync(context, "text/csv; charset=utf-8", string.Create(CultureInfo.InvariantCulture, $"{list}-version-{version}.csv"), client.Table.ExportAsync(version, list, ExportFormat.Csv, context.RequestAborted)))
            .WithMetadata(new ViewMark()).ExcludeFromDescription();
        foreach (var (ending, type, format) in new[] { ("zip", "application/zip", ExportFormat.Csv), ("json", "application/json", ExportFormat.Json) })
        {
            routes.MapGet($"/table/{{version:int}}/export.{ending}", (int version, HttpContext context, DerividClient client) =>
                    WriteAsync(context, type, string.Create(CultureInfo.InvariantCulture, $"table-version-{version}.{ending}"), client.Table.ExportAsync(version, null, format, context.RequestAborted)))
                .WithMetadata(new ViewMark()).ExcludeFromDescription();
        }

        routes.MapGet("/table/{version:int}/data-package.zip", (int version, HttpContext context, DerividClient client) =>
                WriteAsync(context, "application/zip", string.Create(CultureInfo.InvariantCulture, $"derivid-table-{version}.zip"), client.Table.ExportDataPackageAsync(version, context.RequestAborted)))
            .WithMetadata(new ViewMark()).ExcludeFromDescription();
        routes.MapGet("/courses/{id}/gradings/{grading}/grades.csv", (string id, string grading, HttpContext context, DerividClient client) =>
                WriteAsync(context, "text/csv; charset=utf-8", "grades.csv", client.Grades.ExportAsync(id, grading, context.RequestAborted)))
            .WithMetadata(new ViewMark()).ExcludeFromDescription();
        routes.MapGet("/courses/{id}/gradings/{grading}/gradebook.csv", (string id, string grading, HttpContext context, DerividClient client) =>
                WriteAsync(context, "text/csv; charset=utf-8", "gradebook.csv", client.Grades.ExportGradebookAsync(id, grading, context.RequestAborted)))
            .WithMetadata(new ViewMark()).ExcludeFromDescription();
        routes.MapGet("/courses/{id}/oneroster.zip", WriteOneRosterAsync).WithMetadata(new ViewMark()).ExcludeFromDescription();
        routes.MapGet("/verification/sheet.csv", WriteSheetAsync).WithMetadata(new ViewMark()).ExcludeFromDescription();
    }

    // The sheet that a view shows, to be filled in elsewhere.
    private static Task WriteSheetAsync(HttpContext context, DerividClient client)
    {
        var query = SheetAddress.QueryOf(context.Request.Query);
        return WriteAsync(context, "text/csv; charset=utf-8", "sheet.csv", client.Verification.ExportSheetAsync(query, context.RequestAborted));
    }

    private static Task WriteOneRosterAsync(string id, HttpContext context, DerividClient client)
    {
        var query = new OneRosterQuery
        {
            ClassSourcedId = Given("class"),
            CategorySourcedId = Given("category"),
            AcademicSessionSourcedId = Given("session"),
            SchoolSourcedId = Given("school"),
        };
        return WriteAsync(context, "application/zip", "oneroster.zip", client.Grades.ExportOneRosterAsync(id, query, context.RequestAborted));

        string Given(string name) => context.Request.Query[name].ToString().Trim();
    }

    private static async Task WriteAsync(HttpContext context, string type, string name, Task<Stream> file)
    {
        await using var content = await file;
        context.Response.ContentType = type;
        context.Response.Headers.ContentDisposition = $"attachment; filename=\"{name}\"";
        await content.CopyToAsync(context.Response.Body, context.RequestAborted);
    }
}
