using Derivid.Store.Databases;
using Microsoft.AspNetCore.Diagnostics;

namespace Derivid.Api.Http;

/// <summary>Turns an exception no handler expected into a problem that tells nothing of the inside.</summary>
/// <param name="log">Takes what happened; the framework logs nothing of what is handled here.</param>
public sealed partial class UnhandledErrors(ILogger<UnhandledErrors> log) : IExceptionHandler
{
    /// <summary>The problem whose fault is ours.</summary>
    public static Problem Unexpected { get; } = new(ProblemTypes.Unexpected, ProblemTypes.Unexpected.Example);

    /// <inheritdoc/>
    public async ValueTask<bool> TryHandleAsync(
        HttpContext httpContext, Exception exception, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(httpContext);
        var problem = For(exception, httpContext.Request);
        if (problem == Unexpected)
        {
            Failed(log, exception);
        }
        else
        {
            Refused(log, problem.Type.Slug, exception.Message);
        }

        await problem.ExecuteAsync(httpContext);
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

    [LoggerMessage(LogLevel.Error, "A request failed and was not at fault.")]
    private static partial void Failed(ILogger log, Exception fault);

    [LoggerMessage(LogLevel.Warning, "A request was answered {Problem}: {Reason}")]
    private static partial void Refused(ILogger log, string problem, string reason);
}
