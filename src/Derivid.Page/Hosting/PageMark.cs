using System.Net;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Http;

namespace Derivid.Page.Hosting;

/// <summary>
/// Marks the page's own calls of the service with the address of the browser they are made for, so that limits count people
/// and not the page.
/// </summary>
/// <remarks>
/// The mark carries a secret of this process, made at its start and known to nobody else: a caller from outside can't choose
/// an address, and the calls of another instance's page count as sent by that instance. It is never logged.
/// </remarks>
public sealed class PageMark
{
    private const string SecretHeader = "Derivid-Page";
    private const string SenderHeader = "Derivid-Page-Sender";
    private const int SecretBytes = 32;

    private readonly byte[] _secret = RandomNumberGenerator.GetBytes(SecretBytes);

    /// <summary>Marks a call.</summary>
    /// <param name="call">The call, of this process's own service.</param>
    /// <param name="sender">The browser's address.</param>
    public void Write(HttpRequestMessage call, IPAddress sender)
    {
        ArgumentNullException.ThrowIfNull(call);
        ArgumentNullException.ThrowIfNull(sender);
        call.Headers.Add(SecretHeader, Convert.ToHexStringLower(_secret));
        call.Headers.Add(SenderHeader, sender.ToString());
    }

    /// <summary>Reads the mark, and takes it off the request whether it is right or not.</summary>
    /// <param name="request">A request that has come in.</param>
    /// <returns>The browser's address. Missing: null, it is none of this page's calls.</returns>
    public IPAddress? Take(HttpRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        var (secret, sender) = (request.Headers[SecretHeader].ToString(), request.Headers[SenderHeader].ToString());
        request.Headers.Remove(SecretHeader);
        request.Headers.Remove(SenderHeader);
        return IsOurs(secret) && IPAddress.TryParse(sender, out var address) ? address : null;
    }

    // Compared as bytes of equal length, in a time that doesn't depend on the place of a difference.
    private bool IsOurs(string secret)
    {
        Span<byte> sent = stackalloc byte[SecretBytes];
        return secret.Length == SecretBytes * 2
            && Convert.FromHexString(secret, sent, out _, out _) == System.Buffers.OperationStatus.Done
            && CryptographicOperations.FixedTimeEquals(sent, _secret);
    }
}
