using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using Derivid.Contracts;

namespace Derivid.Api.Http;

/// <summary>One occurrence of a problem; writes itself as the answer.</summary>
/// <param name="Type">Which kind it is.</param>
/// <param name="Detail">What happened this time, and what to do.</param>
public sealed record Problem(ProblemType Type, string Detail) : IResult
{
    private const string ContentType = "application/problem+json";

    /// <summary>What is wrong, by place. Missing: null.</summary>
    public IReadOnlyDictionary<string, IReadOnlyList<string>>? Errors { get; init; }

    /// <summary>Version of the reference table that was used. Missing: null.</summary>
    public int? TableVersion { get; init; }

    /// <summary>When to try again. Missing: null, no use in trying.</summary>
    public TimeSpan? RetryAfter { get; init; }

    /// <summary>The problem as it stands within a batch.</summary>
    public ProblemBody ToBody() => new()
    {
        Type = Type.Urn,
        Title = Type.Title,
        Status = Type.Status,
        Detail = Detail,
        Errors = Errors,
        TableVersion = TableVersion,
    };

    /// <inheritdoc/>
    public async Task ExecuteAsync(HttpContext httpContext)
    {
        ArgumentNullException.ThrowIfNull(httpContext);
        var body = ToBody() with
        {
            Instance = Text.Shortened(httpContext.Request.Path.ToUriComponent(), 200),
            TraceId = Activity.Current?.Id ?? httpContext.TraceIdentifier,
        };
        var response = httpContext.Response;
        response.StatusCode = Type.Status;
        response.ContentType = ContentType;
        response.Headers.CacheControl = "no-store";
        if (RetryAfter is { } wait)
        {
            response.Headers.RetryAfter = Math.Ceiling(wait.TotalSeconds).ToString(CultureInfo.InvariantCulture);
        }

        var bytes = JsonSerializer.SerializeToUtf8Bytes(body, WireJson.Context.ProblemBody);
        response.ContentLength = bytes.Length;
        if (!HttpMethods.IsHead(httpContext.Request.Method))
        {
            await response.Body.WriteAsync(bytes, httpContext.RequestAborted);
        }
    }
}
