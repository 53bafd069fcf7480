using System.Globalization;
using Derivid.Client;
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
                WriteAsync(context, string.Create(CultureInfo.InvariantCulture, $"{list}-version-{version}.csv"), client.Table.ExportAsync(version, list, ExportFormat.Csv, context.RequestAborted)))
            .WithMetadata(new ViewMark()).ExcludeFromDescription();
        routes.MapGet("/courses/{id}/gradings/{grading}/grades.csv", (string id, string grading, HttpContext context, DerividClient client) =>
                WriteAsync(context, "grades.csv", client.Grades.ExportAsync(id, grading, context.RequestAborted)))
            .WithMetadata(new ViewMark()).ExcludeFromDescription();
    }

    private static async Task WriteAsync(HttpContext context, string name, Task<Stream> file)
    {
        await using var content = await file;
        context.Response.ContentType = "text/csv; charset=utf-8";
        context.Response.Headers.ContentDisposition = $"attachment; filename=\"{name}\"";
        await content.CopyToAsync(context.Response.Body, context.RequestAborted);
    }
}
