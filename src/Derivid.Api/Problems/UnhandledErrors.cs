using Derivid.Store.Databases;
using Microsoft.AspNetCore.Diagnostics;

namespace Derivid.Api.Problems;

/// <summary>Turns an exception no handler expected into a problem that tells nothing of the inside.</summary>
public sealed class UnhandledErrors : IExceptionHandler
{
    /// <summary>The problem whose fault is ours.</summary>
    public static Problem Unexpected { get; } = new(ProblemTypes.Unexpected, ProblemTypes.Unexpected.Example);

    /// <inheritdoc/>
    public async ValueTask<bool> TryHandleAsync(
        HttpContext httpContext, Exception exception, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(httpContext);
        await For(exception, httpContext.Request).ExecuteAsync(httpContext);
        return true;
    }

    private static Problem For(Exception exception, HttpRequest request) => exception switch
    {
        DatabaseUnavailableException => new Problem(
            ProblemTypes.StorageUnavailable,
            HttpMethods.IsPost(request.Method)
                ? ProblemTypes.StorageUnavailable.Example
                : "What is stored cannot be read just now; try again in a few seconds. New identifications are still answered.")
        {
            RetryAfter = TimeSpan.FromSeconds(DatabaseUnavailableException.RetryAfterSeconds),
        },
        BadHttpRequestException { StatusCode: 413 } =>
            new Problem(ProblemTypes.TooLarge, "The body is larger than the server reads."),
        BadHttpRequestException =>
            new Problem(ProblemTypes.InvalidRequest, "The request could not be read to its end; send it again."),
        _ => Unexpected,
    };
}
