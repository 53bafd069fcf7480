using System.Net;
using Derivid.Page.Hosting;
using Derivid.Store;
using Microsoft.AspNetCore.HttpOverrides;
using IPNetwork = System.Net.IPNetwork;

namespace Derivid.Api.Access;

/// <summary>
/// Which proxies are believed when they say whose request they pass on (X-Forwarded-For), and whether it came by https
/// (X-Forwarded-Proto).
/// </summary>
/// <remarks>
/// Without any, the sender is whoever the connection comes from, and anybody may write the header in vain. The framework's
/// own switch, ASPNETCORE_FORWARDEDHEADERS_ENABLED, believes everybody, which would let each caller choose their address.
/// </remarks>
public static class TrustedProxies
{
    private static readonly char[] Separators = [',', ';', ' '];

    /// <summary>Reads a list of addresses and networks.</summary>
    /// <param name="list">Such as "10.42.0.0/16, 192.0.2.7". Missing: empty.</param>
    /// <exception cref="SettingException">An entry is neither; the message names it.</exception>
    public static IReadOnlyList<IPNetwork> Read(string list) =>
        [.. list.Split(Separators, StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(Network)];

    /// <summary>Takes the sender's address from the header where a proxy of the settings sent it; to be used first.</summary>
    /// <param name="app">The application.</param>
    public static void UseTrustedProxies(this WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
        var networks = Read(app.Services.GetRequiredService<AccessSettings>().TrustedProxies);
        if (networks.Count == 0)
        {
            return;
        }

        // From the right: each trusted proxy vouches for the one before it, and what is left of that anyone may have written.
        var options = new ForwardedHeadersOptions { ForwardedHeaders = ForwardedHeaders.XForwardedFor | ForwardedHeaders.XForwardedProto, ForwardLimit = null };
        options.KnownProxies.Clear();
        options.KnownIPNetworks.Clear();
        foreach (var network in networks)
        {
            options.KnownIPNetworks.Add(network);
        }

        app.UseForwardedHeaders(options);
    }

    /// <summary>Takes the browser's address from calls that this process's own page makes; to be used right after.</summary>
    /// <param name="app">The application.</param>
    public static void UsePageCalls(this WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
        var mark = app.Services.GetRequiredService<PageMark>();
        app.Use((context, next) =>
        {
            if (mark.Take(context.Request) is { } browser)
            {
                context.Connection.RemoteIpAddress = browser;
                context.Features.Set(new PageCall());
            }

            return next(context);
        });
    }

    /// <summary>Says of a request that this process's own page makes it, for a request that is counted already.</summary>
    internal sealed record PageCall;

    private static IPNetwork Network(string entry) =>
        IPNetwork.TryParse(entry, out var network) ? network
        : IPAddress.TryParse(entry, out var address) ? new IPNetwork(address, address.GetAddressBytes().Length * 8)
        : throw new SettingException(
            $"Access:TrustedProxies holds '{entry}'; allowed are addresses (192.0.2.7) and networks (10.42.0.0/16), separated by commas.");
}
