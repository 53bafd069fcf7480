using Microsoft.AspNetCore.Diagnostics;

namespace Derivid.Api.Http;

/// <summary>Gives a problem body to the statuses the framework answers by itself, such as 404 and 405.</summary>
public static class StatusCodeProblems
{
    /// <summary>Writes the body for a status set without one.</summary>
    /// <param name="context">The answer under way.</param>
    public static Task WriteAsync(StatusCodeContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        var http = context.HttpContext;
        return For(http.Response.StatusCode, http.Request, http.Response).ExecuteAsync(http);
    }

    private static Problem For(int status, HttpRequest request, HttpResponse response) => status switch
    {
        404 => new Problem(
            ProblemTypes.NotFound,
            "No operation of this service has this address; /swagger lists them all."),
        405 => new Problem(
            ProblemTypes.MethodNotAllowed,
            $"{Text.Shortened(request.Method, 20)} is not answered here; allowed: {response.Headers.Allow}."),
        413 => new Problem(ProblemTypes.TooLarge, "The body is larger than the server reads."),
        415 => new Problem(ProblemTypes.UnsupportedMediaType, "Send the body as application/json in UTF-8."),
        >= 500 => UnhandledErrors.Unexpected,
        _ => new Problem(ProblemTypes.InvalidRequest, "The request could not be read as HTTP; check address and headers."),
    };
}
