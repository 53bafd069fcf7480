using Derivid.Api.Operating;
using Derivid.Page.Failures;
using Derivid.Store.Access;
using Derivid.Store.Databases;
using Derivid.Store.Idempotency;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.AspNetCore.Routing.Template;

namespace Derivid.Api.Http;

/// <summary>Turns an exception no handler expected into a problem that tells nothing of the inside.</summary>
/// <param name="outages">Takes what the database did not do.</param>
/// <param name="log">Takes what else happened; the framework logs nothing of what is handled here.</param>
public sealed partial class UnhandledErrors(OutageLog outages, ILogger<UnhandledErrors> log) : IExceptionHandler
{
    /// <summary>The problem whose fault is ours.</summary>
    public static Problem Unexpected { get; } = new(ProblemTypes.Unexpected, ProblemTypes.Unexpected.Example);

    /// <inheritdoc/>
    public async ValueTask<bool> TryHandleAsync(
        HttpContext httpContext, Exception exception, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(httpContext);
        var problem = For(exception, httpContext.Request);
        var trace = TraceId.Of(httpContext);
        if (problem == Unexpected)
        {
            Failed(log, trace, exception);
        }
        else if (exception is DatabaseUnavailableException)
        {
            // Why it is away only its provider knows: a full disk, another process that writes.
            outages.Note(exception.GetBaseException().Message);
        }
        else
        {
            Refused(log, problem.Type.Slug, exception.Message, trace);
        }

        try
        {
            await problem.ExecuteAsync(httpContext);
        }
        catch (OperationCanceledException) when (httpContext.RequestAborted.IsCancellationRequested)
        {
            // Nobody is there to read it any more.
        }

        return true;
    }

    private static Problem For(Exception exception, HttpRequest request) => exception switch
    {
        DatabaseUnavailableException => new Problem(
            ProblemTypes.StorageUnavailable,
            !HttpMethods.IsPost(request.Method) ? "What is stored cannot be read just now; try again in a few seconds. New identifications are still answered."
                : request.Path.StartsWithSegments("/api/v1/identifications", StringComparison.OrdinalIgnoreCase) ? ProblemTypes.StorageUnavailable.Example
                : "Nothing was stored; try again in a few seconds.")
        {
            RetryAfter = TimeSpan.FromSeconds(DatabaseUnavailableException.RetryAfterSeconds),
        },
        KeySpentException spent => new Problem(ProblemTypes.KeyRequired, spent.Message),
        IdempotencyKeyReusedException reused => new Problem(
            ProblemTypes.IdempotencyKeyReused,
            $"{Text.Quoted(reused.Key)} was sent before with another address or body; nothing was changed. Use another key."),
        NoRoomException => new Problem(ProblemTypes.Busy, "There is no room for the file just now; nothing of it was taken. Send it again in a while.")
        {
            RetryAfter = TimeSpan.FromSeconds(DatabaseUnavailableException.RetryAfterSeconds),
        },
        BadHttpRequestException { StatusCode: 413 } =>
            new Problem(ProblemTypes.TooLarge, "The body is larger than the server reads."),
        BadHttpRequestException { StatusCode: 408 } =>
            new Problem(ProblemTypes.InvalidRequest, "The body stopped, or came at under 2 KB a second; send it again over a better line.") { Cause = Refusals.SlowBody },
        BadHttpRequestException =>
            new Problem(ProblemTypes.InvalidRequest, "The request could not be read to its end; send it again."),
        _ => Unexpected,
    };

    [LoggerMessage(LogLevel.Error, "A request failed and was not at fault: {TraceId}")]
    private static partial void Failed(ILogger log, string traceId, Exception fault);

    [LoggerMessage(LogLevel.Warning, "A request was answered {Problem}: {Reason} {TraceId}")]
    private static partial void Refused(ILogger log, string problem, string reason, string traceId);
}

/// <summary>Gives a problem body to the statuses the framework answers by itself, such as 404 and 405.</summary>
public static class StatusCodeProblems
{
    /// <summary>Writes the body for a status set without one: a page for a reader, else a problem.</summary>
    /// <param name="context">The answer under way.</param>
    public static Task WriteAsync(StatusCodeContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        var http = context.HttpContext;
        return FailurePage.IsWanted(http, http.GetEndpoint())
            ? FailurePage.WriteStatusAsync(http)
            : For(http.Response.StatusCode, http.Request, http.Response).ExecuteAsync(http);
    }

    // Routing refuses a type that no operation of the address takes, and then doesn't say which are taken.
    private static string TypesOf(HttpRequest request)
    {
        var types = request.HttpContext.RequestServices.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
            .Where(endpoint => endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods.Contains(request.Method) == true
                && new TemplateMatcher(new RouteTemplate(endpoint.RoutePattern), []).TryMatch(request.Path, []))
            .SelectMany(endpoint => endpoint.Metadata.GetMetadata<IAcceptsMetadata>()?.ContentTypes ?? []).Distinct(StringComparer.Ordinal).ToList();
        return types.Count == 0 ? MediaTypes.Json : string.Join(" or ", types);
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
        415 => new Problem(ProblemTypes.UnsupportedMediaType, $"Send the body as {TypesOf(request)} in UTF-8."),
        >= 500 => UnhandledErrors.Unexpected,
        _ => new Problem(ProblemTypes.InvalidRequest, "The request could not be read as HTTP; check address and headers."),
    };
}
