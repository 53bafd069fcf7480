using System.CommandLine;

namespace Derivid.Cli.Keys;

/// <summary><c>derivid keys</c>.</summary>
internal static class KeysCommand
{
    public static Command Make(CommonOptions common) => new("keys", "Keys to the service; needs an administrator's.")
    {
        ListKeysCommand.Make(common),
        CreateKeyCommand.Make(common),
        RevokeKeyCommand.Make(common),
    };
}
