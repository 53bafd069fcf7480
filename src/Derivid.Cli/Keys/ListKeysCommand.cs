using System.CommandLine;
using Derivid.Cli.Writing;
using Derivid.Client.Keys;
using Spectre.Console;

namespace Derivid.Cli.Keys;

/// <summary><c>derivid keys list</c>.</summary>
internal static class ListKeysCommand
{
    public static Command Make(CommonOptions common)
    {
        var usable = new Option<bool>("--usable") { Description = "Leave out revoked and expired keys." };
        var command = new ExampledCommand("list", "List the keys given out, without their secrets.")
        {
            Examples =
            [
                ("all keys that open something", "derivid keys list --usable"),
                ("those not used since 2026, with jq", "derivid keys list --json | jq '.[] | select(.lastUsedOn < \"2026\") | .id'"),
            ],
        };
        command.Add(usable);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var keys = await session.Client.Keys
                .ListAsync(isUsable: parsed.GetValue(usable) ? true : null, cancellationToken: token)
                .ToListAsync(token);
            session.Show(keys, Write);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, List<KeyItem> keys)
    {
        var table = Screen.NewTable("public part", "name", "role", "state", "made", "good until", "last used");
        foreach (var key in keys)
        {
            table.AddTexts(
                key.Id,
                key.Name,
                key.Role.ToString().ToLowerInvariant(),
                key.IsUsable ? "usable" : key.RevokedAt is null ? "expired" : "revoked",
                Figures.Moment(key.CreatedAt),
                key.ExpiresAt is null ? "for ever" : Figures.Moment(key.ExpiresAt),
                key.LastUsedOn is { } day ? Figures.Day(day) : "never");
        }

        console.Write(table);
    }
}
