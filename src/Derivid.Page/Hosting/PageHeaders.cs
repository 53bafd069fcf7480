using Microsoft.AspNetCore.Http;

namespace Derivid.Page.Hosting;

/// <summary>The headers of every view: what a browser may load, frame and keep.</summary>
public static class PageHeaders
{
    // Nothing inline and nothing from elsewhere. Forms are sent to this service only.
    private const string Policy =
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; "
        + "base-uri 'none'; frame-ancestors 'none'";

    // The page of the interface comes from a package and draws its arrows and marks as data; all else is as strict.
    private const string InterfacePolicy =
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; form-action 'self'; "
        + "base-uri 'none'; frame-ancestors 'none'";

    /// <summary>Sets those of the page that shows the interface, and of the files it loads, which belong to nobody and may be kept.</summary>
    /// <param name="response">The answer, not begun.</param>
    public static void SetForInterface(HttpResponse response)
    {
        ArgumentNullException.ThrowIfNull(response);
        response.Headers.ContentSecurityPolicy = InterfacePolicy;
        WriteCommon(response.Headers);
    }

    /// <summary>Has them set when the answer begins: a form's token sets weaker ones of its own while the view is written.</summary>
    /// <param name="response">The answer, not begun.</param>
    public static void Set(HttpResponse response)
    {
        ArgumentNullException.ThrowIfNull(response);
        response.OnStarting(() =>
        {
            Write(response.Headers);
            return Task.CompletedTask;
        });
    }

    private static void Write(IHeaderDictionary headers)
    {
        headers.ContentSecurityPolicy = Policy;
        WriteCommon(headers);
        // A view depends on who is signed in, and a form on its session.
        headers.CacheControl = "no-store";
        headers.Remove("blazor-enhanced-nav");
    }

    private static void WriteCommon(IHeaderDictionary headers)
    {
        headers.XFrameOptions = "DENY";
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "camera=(), geolocation=(), microphone=()";
    }
}
