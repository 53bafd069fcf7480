using System.CommandLine;
using System.Net;
using System.Text.RegularExpressions;
using Derivid.Client;
using Derivid.Contracts;

namespace Derivid.Cli;

/// <summary>The options every command has.</summary>
internal sealed class CommonOptions(Surroundings around)
{
    public const string KeyVariable = "DERIVID_KEY";
    public const string ServerVariable = "DERIVID_SERVER";

    private const string DefaultServer = "http://127.0.0.1:5080";

    private readonly Option<string?> _server = new("--server")
    {
        Description = $"Address of the service. Default: ${ServerVariable}, else {DefaultServer}.",
        HelpName = "URL",
        Recursive = true,
    };

    private readonly Option<string?> _keyFile = new("--key-file")
    {
        Description = $"File that holds your key. Default: the key in ${KeyVariable}, else none.",
        HelpName = "FILE",
        Recursive = true,
    };

    private readonly Option<bool> _json = new("--json")
    {
        Description = "Write the result as JSON, for scripts.",
        Recursive = true,
    };

    public void AddTo(Command command)
    {
        command.Add(_server);
        command.Add(_keyFile);
        command.Add(_json);
    }

    public bool IsJson(ParseResult parsed) => parsed.GetValue(_json);

    /// <summary>Connects to the service.</summary>
    /// <exception cref="UsageException">The address or the key can't be used.</exception>
    public Session Open(ParseResult parsed)
    {
        var server = AddressOf(parsed.GetValue(_server) ?? Variable(ServerVariable) ?? DefaultServer);
        var key = parsed.GetValue(_keyFile) is { } file ? KeyIn(file) : Variable(KeyVariable)?.Trim();
        if (key is not null && server.Scheme != Uri.UriSchemeHttps && !server.IsLoopback)
        {
            around.Error.WriteLine("derivid: careful, your key goes over the network in the clear; use https.");
        }

        return new Session(DerividClient.Connect(server, key, whenWaiting: Tell), server, around, IsJson(parsed));
    }

    private void Tell(Waiting waiting) => around.Error.WriteLine(
        $"derivid: the service {(waiting.Status == HttpStatusCode.TooManyRequests ? "has had too many requests" : "can't do it just now")} and asks to wait; "
        + $"trying again in {Figures.Duration(waiting.For)}, {Figures.Plain(waiting.Retry)} of at most {Figures.Plain(waiting.MostRetries)} times.");

    private string? Variable(string name) => around.Variable(name) is { Length: > 0 } value ? value : null;

    private static Uri AddressOf(string text) =>
        Uri.TryCreate(text, UriKind.Absolute, out var address)
        && (address.Scheme == Uri.UriSchemeHttp || address.Scheme == Uri.UriSchemeHttps)
            ? address
            : throw new UsageException($"\"{text}\" is no address of a service; write it like {DefaultServer}.");

    private static string KeyIn(string file)
    {
        try
        {
            var key = File.ReadAllText(file).Trim();
            return Secrets.IsKey(key) && !key.Any(char.IsWhiteSpace)
                ? key
                : throw new UsageException($"{file} holds no key. It must hold the key and nothing else.");
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new UsageException("The key can't be read: " + fault.Message);
        }
    }
}

/// <summary>The option that says why something is changed.</summary>
internal static class ReasonOption
{
    public static Option<string?> Make() => new("--reason")
    {
        Description = "Why, for the audit log.",
        HelpName = "TEXT",
    };
}

/// <summary>Knows a key when it sees one.</summary>
internal static partial class Secrets
{
    public static bool IsKey(string text) => Key().IsMatch(text);

    [GeneratedRegex(KeyForm.Prefix + "[0-9a-fA-F]+_[0-9a-fA-F]+")]
    private static partial Regex Key();
}
