using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Text.Json;
using Derivid.Api.Operating;
using Derivid.Contracts;
using Derivid.Page.Failures;

namespace Derivid.Api.Http;

/// <summary>One occurrence of a problem; writes itself as the answer.</summary>
/// <param name="Type">Which kind it is.</param>
/// <param name="Detail">What happened this time, and what to do.</param>
public sealed record Problem(ProblemType Type, string Detail) : IResult
{

    /// <summary>What is wrong, by place. Missing: null.</summary>
    public IReadOnlyDictionary<string, IReadOnlyList<string>>? Errors { get; init; }

    /// <summary>Version of the reference table that was used. Missing: null.</summary>
    public int? TableVersion { get; init; }

    /// <summary>What it comes from, for whoever counts, where its type doesn't tell: a word of this program. Missing: null.</summary>
    public string? Cause { get; init; }

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
        httpContext.RequestServices.GetRequiredService<Refusals>().Note(this);
        var body = ToBody() with
        {
            Instance = Text.Shortened(httpContext.Request.Path.ToUriComponent(), 200),
            TraceId = TraceId.Of(httpContext),
        };
        var response = httpContext.Response;
        response.StatusCode = Type.Status;
        response.ContentType = MediaTypes.Problem;
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

/// <summary>One kind of refusal or failure, with the title and status it always has.</summary>
/// <param name="Slug">Stable name; the type is <c>urn:derivid:problem:</c> and this.</param>
/// <param name="Title">Fixed title.</param>
/// <param name="Status">HTTP status code.</param>
/// <param name="Example">A detail such as a reader may meet, for the published document.</param>
public sealed record ProblemType(string Slug, string Title, int Status, string Example)
{
    /// <summary>The problem's type as it stands in the body (RFC 9457).</summary>
    public string Urn => ProblemBody.TypeOf(Slug);
}

/// <summary>Either a value or the problem that stood in its way.</summary>
/// <typeparam name="T">What is wanted.</typeparam>
public readonly struct Outcome<T>
    where T : class
{
    private readonly T? _value;
    private readonly Problem? _problem;

    private Outcome(T? value, Problem? problem)
    {
        _value = value;
        _problem = problem;
    }

    /// <summary>Succeeded with a value.</summary>
    /// <param name="value">The value.</param>
    public static implicit operator Outcome<T>(T value) => new(value, null);

    /// <summary>Failed with a problem.</summary>
    /// <param name="problem">The problem.</param>
    public static implicit operator Outcome<T>(Problem problem) => new(null, problem);

    /// <summary>Takes it apart.</summary>
    /// <param name="value">The value, when this returns true.</param>
    /// <param name="problem">The problem, when this returns false.</param>
    /// <returns>Whether there is a value.</returns>
    public bool Succeeded([NotNullWhen(true)] out T? value, [NotNullWhen(false)] out Problem? problem)
    {
        (value, problem) = (_value, _problem);
        return value is not null;
    }
}
