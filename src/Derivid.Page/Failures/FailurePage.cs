using Derivid.Page.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Page.Failures;

/// <summary>Answers with a failure in place of a view.</summary>
public static class FailurePage
{
    private static readonly string[] NoViews = ["/api", "/health", "/swagger"];

    /// <summary>Whether a request is a reader's, to be answered with a page and not with a problem document.</summary>
    /// <param name="context">The request.</param>
    /// <param name="endpoint">The endpoint it was for. Missing: null, none.</param>
    public static bool IsWanted(HttpContext context, Endpoint? endpoint)
    {
        ArgumentNullException.ThrowIfNull(context);
        return PageHosting.IsView(endpoint)
            || (!NoViews.Any(root => context.Request.Path.StartsWithSegments(root, StringComparison.OrdinalIgnoreCase))
                && context.Request.Headers.Accept.ToString().Contains("text/html", StringComparison.OrdinalIgnoreCase));
    }

    /// <summary>Answers for a status that was set without a body.</summary>
    /// <param name="context">The request.</param>
    public static Task WriteStatusAsync(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        return WriteAsync(context, context.Response.StatusCode switch
        {
            StatusCodes.Status400BadRequest => new Failure(400, "The form could not be read.", "Something in it is no text. Go back and try again."),
            StatusCodes.Status403Forbidden => Failure.Forbidden,
            StatusCodes.Status404NotFound => Failure.NotFound,
            StatusCodes.Status413PayloadTooLarge => new Failure(413, "That is more than can be taken at once.", "Send less, or in parts."),
            var status => new Failure(status, "This can't be shown.", "Go back and try again."),
        });
    }

    /// <summary>Answers.</summary>
    /// <param name="context">The request.</param>
    /// <param name="failure">What went wrong.</param>
    public static async Task WriteAsync(HttpContext context, Failure failure)
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(failure);
        PageHeaders.Set(context.Response);
        if (failure.RetryAfterSeconds is { } seconds)
        {
            context.Response.Headers.RetryAfter = seconds;
        }

        var page = new RazorComponentResult<Document>(new { Failure = await failure.KeepingAsync(context.Request) }) { StatusCode = failure.Status };
        // The view that failed may have begun; what it began belongs to its scope.
        var services = context.RequestServices;
        await using var scope = services.CreateAsyncScope();
        context.RequestServices = scope.ServiceProvider;
        await page.ExecuteAsync(context);
        context.RequestServices = services;
    }
}
