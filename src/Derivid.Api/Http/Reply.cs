using System.Globalization;
using System.Text;
using System.Text.Json;
using Derivid.Contracts;
using Microsoft.Net.Http.Headers;

namespace Derivid.Api.Http;

/// <summary>Answers of JSON, and conditional answers (RFC 9110) about what changes with the table's version alone.</summary>
public static class Reply
{
    // The build belongs to the tag: another build may write the same table another way.
    private static readonly string Build = typeof(Reply).Module.ModuleVersionId.ToString("N")[..8];

    /// <summary>Answers with JSON.</summary>
    /// <param name="value">A wire type.</param>
    public static IResult Json(object value)
    {
        ArgumentNullException.ThrowIfNull(value);
        return Bytes(JsonSerializer.SerializeToUtf8Bytes(value, value.GetType(), WireJson.Context), MediaTypes.Json);
    }

    /// <summary>Answers with JSON whose numbers stand as the table has them, so that its records can be sent back.</summary>
    /// <param name="value">A wire type.</param>
    public static IResult Exactly(object value)
    {
        ArgumentNullException.ThrowIfNull(value);
        return Bytes(JsonSerializer.SerializeToUtf8Bytes(value, value.GetType(), WireJson.Exact), MediaTypes.Json);
    }

    /// <summary>Answers with bytes, a part after the other: what a slow reader has not taken yet is not held a second time.</summary>
    /// <param name="bytes">The answer.</param>
    /// <param name="type">Its media type.</param>
    public static IResult Bytes(ReadOnlyMemory<byte> bytes, string type) => new BytesInParts(bytes, type);

    /// <summary>Answers with a drawing that may fetch and run nothing, even opened by itself.</summary>
    /// <param name="context">The request.</param>
    /// <param name="svg">The drawing.</param>
    public static IResult Svg(HttpContext context, string svg)
    {
        ArgumentNullException.ThrowIfNull(context);
        context.Response.Headers.ContentSecurityPolicy = "default-src 'none'; sandbox";
        return Results.Text(svg, MediaTypes.Svg, Encoding.UTF8);
    }

    /// <summary>Tags the answer, and gives it unless the sender has it already.</summary>
    /// <param name="context">The request.</param>
    /// <param name="tableVersion">The table's version.</param>
    /// <param name="answer">The answer.</param>
    public static IResult UnlessKnown(HttpContext context, int tableVersion, Func<IResult> answer) =>
        UnlessKnown(context, string.Create(CultureInfo.InvariantCulture, $"{tableVersion}-{Build}"), answer);

    /// <summary>Tags the answer, and gives it unless the sender has it already.</summary>
    /// <param name="context">The request.</param>
    /// <param name="tag">The tag, without quotation marks.</param>
    /// <param name="answer">The answer.</param>
    public static IResult UnlessKnown(HttpContext context, string tag, Func<IResult> answer)
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(answer);
        var headers = context.Response.GetTypedHeaders();
        headers.ETag = new EntityTagHeaderValue($"\"{tag}\"");
        headers.CacheControl = new CacheControlHeaderValue { NoCache = true };
        return context.Request.GetTypedHeaders().IfNoneMatch
            .Any(t => t.Equals(EntityTagHeaderValue.Any) || t.Compare(headers.ETag, useStrongComparison: false))
            ? Results.StatusCode(StatusCodes.Status304NotModified)
            : answer();
    }
}

/// <summary>An answer of bytes, sent a part after the other.</summary>
/// <param name="bytes">The answer.</param>
/// <param name="type">Its media type.</param>
internal sealed class BytesInParts(ReadOnlyMemory<byte> bytes, string type) : IResult
{
    // Half of what the server holds of an answer before it waits for its reader.
    private const int PartBytes = 32 * 1024;

    /// <inheritdoc/>
    public async Task ExecuteAsync(HttpContext httpContext)
    {
        ArgumentNullException.ThrowIfNull(httpContext);
        var response = httpContext.Response;
        response.ContentType = type;
        response.ContentLength = bytes.Length;
        for (var left = bytes; !left.IsEmpty; left = left[int.Min(PartBytes, left.Length)..])
        {
            await response.BodyWriter.WriteAsync(left[..int.Min(PartBytes, left.Length)], httpContext.RequestAborted);
        }
    }
}
