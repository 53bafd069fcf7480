using System.Globalization;
using Microsoft.Net.Http.Headers;

namespace Derivid.Api.Table;

/// <summary>Conditional requests (RFC 9110) for what depends on the table's version alone.</summary>
public static class TableEtag
{
    // The build belongs to the tag: another build may write the same table another way.
    private static readonly string Build = typeof(TableEtag).Module.ModuleVersionId.ToString("N")[..8];

    /// <summary>Tags the answer, and says whether the sender has it already.</summary>
    /// <param name="context">The request.</param>
    /// <param name="tableVersion">The table's version.</param>
    /// <returns>Whether 304 is the answer.</returns>
    public static bool IsFresh(HttpContext context, int tableVersion) =>
        IsFresh(context, string.Create(CultureInfo.InvariantCulture, $"{tableVersion}-{Build}"));

    /// <summary>Tags the answer, and says whether the sender has it already.</summary>
    /// <param name="context">The request.</param>
    /// <param name="tag">The tag, without quotation marks.</param>
    /// <returns>Whether 304 is the answer.</returns>
    public static bool IsFresh(HttpContext context, string tag)
    {
        ArgumentNullException.ThrowIfNull(context);
        var headers = context.Response.GetTypedHeaders();
        headers.ETag = new EntityTagHeaderValue($"\"{tag}\"");
        headers.CacheControl = new CacheControlHeaderValue { NoCache = true };
        return context.Request.GetTypedHeaders().IfNoneMatch
            .Any(t => t.Equals(EntityTagHeaderValue.Any) || t.Compare(headers.ETag, useStrongComparison: false));
    }
}
