using System.Net.Http.Headers;
using System.Net.Mime;

namespace Derivid.Api.Http;

/// <summary>The media types taken and given, and the one check of what a body says it is.</summary>
public static class MediaTypes
{
    /// <summary>JSON.</summary>
    public const string Json = MediaTypeNames.Application.Json;

    /// <summary>Problem details (RFC 9457).</summary>
    public const string Problem = MediaTypeNames.Application.ProblemJson;

    /// <summary>Comma-separated values (RFC 4180).</summary>
    public const string Csv = MediaTypeNames.Text.Csv;

    /// <summary>Files in a ZIP archive.</summary>
    public const string Zip = MediaTypeNames.Application.Zip;

    /// <summary>A drawing.</summary>
    public const string Svg = MediaTypeNames.Image.Svg;

    /// <summary>JSON, one value a line.</summary>
    public const string JsonLines = "application/x-ndjson";

    /// <summary>Tells of which type a body is.</summary>
    /// <param name="request">The request.</param>
    /// <param name="noun">What the body is called where it is refused.</param>
    /// <param name="allowed">The types taken, in lower case.</param>
    /// <returns>One of those allowed; or the problem of a body of another type, in another encoding or compressed.</returns>
    public static Outcome<string> Of(HttpRequest request, string noun, params string[] allowed)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (request.Headers.ContentEncoding is { Count: > 0 } encoding && encoding != "identity")
        {
            return Unsupported(request, noun, allowed, "compressed as " + Text.Quoted(encoding.ToString()));
        }

        if (!MediaTypeHeaderValue.TryParse(request.ContentType, out var type))
        {
            return Unsupported(request, noun, allowed, "without a media type");
        }

        var isUtf8 = type.CharSet is null || type.CharSet.Trim('"').Equals("utf-8", StringComparison.OrdinalIgnoreCase);
        return isUtf8 && allowed.FirstOrDefault(IsNamed) is { } found
            ? found
            : Unsupported(request, noun, allowed, "as " + Text.Quoted(request.ContentType!));

        bool IsNamed(string name) => string.Equals(type.MediaType, name, StringComparison.OrdinalIgnoreCase);
    }

    private static Problem Unsupported(HttpRequest request, string noun, string[] allowed, string came)
    {
        request.HttpContext.Response.Headers.Accept = string.Join(", ", allowed);
        return new Problem(
            ProblemTypes.UnsupportedMediaType,
            $"Send the {noun} as {string.Join(" or ", allowed)} in UTF-8, not compressed; this one came {came}.");
    }
}
