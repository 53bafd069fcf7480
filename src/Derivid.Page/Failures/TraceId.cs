using System.Diagnostics;
using Microsoft.AspNetCore.Http;

namespace Derivid.Page.Failures;

/// <summary>The id by which a request is found again: in its problem, the audit log and the service's log.</summary>
public static class TraceId
{
    /// <summary>Of a request.</summary>
    /// <param name="context">The request.</param>
    /// <returns>Shape: W3C Trace Context where the request is traced, else the server's own id.</returns>
    public static string Of(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        return Activity.Current?.Id ?? context.TraceIdentifier;
    }
}
