using Microsoft.AspNetCore.Http;

namespace Derivid.Page.Sessions;

/// <summary>Addresses to go back to.</summary>
public static class Addresses
{
    /// <summary>The address of a request, to come back to.</summary>
    /// <param name="context">The request.</param>
    public static string Of(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        return Local(context.Request.Path + context.Request.QueryString.ToString());
    }

    /// <summary>An address of this site; nobody is sent elsewhere by a link that names another.</summary>
    /// <param name="address">As sent. Missing: the bench.</param>
    public static string Local(string? address) =>
        address is ['/', ..] && address is not ['/', '/' or '\\', ..] && !address.Any(char.IsControl)
        && Uri.IsWellFormedUriString(address, UriKind.Relative)
            ? address
            : "/";
}
