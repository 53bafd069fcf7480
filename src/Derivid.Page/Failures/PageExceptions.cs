using System.Security.Cryptography;
using Derivid.Client;
using Derivid.Page.Hosting;
using Derivid.Page.Sessions;
using Microsoft.AspNetCore.Diagnostics;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace Derivid.Page.Failures;

/// <summary>Turns what stood in the way of a view into a page that says so and keeps what was typed.</summary>
/// <param name="log">Takes what happened.</param>
public sealed partial class PageExceptions(ILogger<PageExceptions> log) : IExceptionHandler
{
    /// <inheritdoc/>
    public async ValueTask<bool> TryHandleAsync(
        HttpContext httpContext, Exception exception, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(httpContext);
        if (!PageHosting.IsView(httpContext.Features.Get<IExceptionHandlerFeature>()?.Endpoint))
        {
            return false;
        }

        if (exception is DerividException { Problem.Status: StatusCodes.Status401Unauthorized } && HttpMethods.IsGet(httpContext.Request.Method))
        {
            httpContext.Response.Redirect("/sign-in?returnUrl=" + Uri.EscapeDataString(Addresses.Of(httpContext)));
            PageHeaders.Set(httpContext.Response);
            return true;
        }

        await FailurePage.WriteAsync(httpContext, FailureOf(httpContext, exception));
        return true;
    }

    private Failure FailureOf(HttpContext context, Exception exception)
    {
        switch (exception)
        {
            case FailureException known:
                return known.Failure;
            case DerividException refusal:
                return Failure.Of(refusal);
            case HttpRequestException or TaskCanceledException or TimeoutException:
                NoAnswer(log, exception.GetBaseException().Message);
                return Failure.NoAnswer;
            case CryptographicException:
                // The keys of sessions and forms lie in the database.
                NoAnswer(log, exception.GetBaseException().Message);
                return Failure.NoAnswer;
            case BadHttpRequestException bad:
                return new Failure(bad.StatusCode, "The form could not be read.", "Send it again; if it holds a file, a smaller one.");
            default:
                Failed(log, exception);
                return Failure.Unexpected(TraceId.Of(context));
        }
    }

    [LoggerMessage(LogLevel.Warning, "The page got no answer from the service: {Reason}")]
    private static partial void NoAnswer(ILogger log, string reason);

    [LoggerMessage(LogLevel.Error, "A view failed and was not at fault.")]
    private static partial void Failed(ILogger log, Exception fault);
}
