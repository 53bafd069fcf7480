namespace Derivid.Page.Sessions;

/// <summary>Addresses to go back to.</summary>
public static class Addresses
{
    /// <summary>An address of this site; nobody is sent elsewhere by a link that names another.</summary>
    /// <param name="address">As sent. Missing: the bench.</param>
    public static string Local(string? address) =>
        address is ['/', ..] && address is not ['/', '/' or '\\', ..] && !address.Any(char.IsControl)
        && Uri.IsWellFormedUriString(address, UriKind.Relative)
            ? address
            : "/";
}
