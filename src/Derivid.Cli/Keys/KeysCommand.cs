using System.CommandLine;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Spectre.Console;

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
                WireJson.Word(key.Role),
                key.IsUsable ? "usable" : key.RevokedAt is null ? "expired" : "revoked",
                Figures.Moment(key.CreatedAt),
                key.ExpiresAt is null ? "for ever" : Figures.Moment(key.ExpiresAt),
                key.LastUsedOn is { } day ? Figures.Day(day) : "never");
        }

        console.Write(table);
    }
}

/// <summary><c>derivid keys create</c>.</summary>
internal static class CreateKeyCommand
{
    public static Command Make(CommonOptions common)
    {
        var name = new Option<string>("--name")
        {
            Description = "Whom or what it is for.",
            HelpName = "TEXT",
            Required = true,
        };
        var role = OptionOf.Many(
            "--role", "ROLE", "student, grader, instructor or administrator.", OptionOf.Word<Role>);
        role.Description = "student, grader, instructor or administrator; each may do all that those before it may.";
        role.Arity = ArgumentArity.ExactlyOne;
        role.Required = true;
        var days = new Option<int?>("--valid-days") { Description = "How long it is good. Default: 365.", HelpName = "DAYS" };
        var file = new Option<string?>("--to-file")
        {
            Description = "Write the key into this new file, which only you can read, instead of showing it.",
            HelpName = "FILE",
        };
        var reason = ReasonOption.Make();
        var command = new ExampledCommand("create", "Make a key. It is shown this once and can't be fetched again.")
        {
            Examples =
            [
                ("for a grading script", "derivid keys create --name 'grading, organic lab' --role grader --to-file grading.key"),
            ],
        };
        foreach (var option in (Option[])[name, role, days, file, reason])
        {
            command.Add(option);
        }

        command.SetAction(async (parsed, token) =>
        {
            var request = new KeyRequest
            {
                Name = parsed.GetRequiredValue(name),
                Role = parsed.GetRequiredValue(role)[0],
                ValidDays = parsed.GetValue(days),
            };
            using var session = common.Open(parsed);
            var why = parsed.GetValue(reason);
            await (parsed.GetValue(file) is { } path
                ? WriteAsync(session, request, why, path, token)
                : ShowAsync(session, request, why, token));
            return ExitCode.Done;
        });
        return command;
    }

    private static async Task ShowAsync(
        Session session, KeyRequest request, string? reason, CancellationToken cancellationToken)
    {
        var made = await session.Client.Keys.CreateAsync(request, reason, cancellationToken: cancellationToken);
        session.Show(made, (_, key) => session.Around.Output.WriteLine(key.Key));
        session.Around.Error.WriteLine(
            "derivid: this is the whole key. It is shown this once; keep it like a password.");
    }

    // The file is made before the key is, so that no key is lost for want of a place to put it.
    private static async Task WriteAsync(
        Session session, KeyRequest request, string? reason, string path, CancellationToken cancellationToken)
    {
        await using var target = Files.CreatePrivate(path, "key");
        try
        {
            var made = await session.Client.Keys.CreateAsync(request, reason, cancellationToken: cancellationToken);
            await target.WriteLineAsync(made.Key);
            session.Show(made.Details, (_, details) => session.Around.Output.WriteLine(details.Id));
        }
        catch
        {
            File.Delete(path);
            throw;
        }
    }
}

/// <summary><c>derivid keys revoke</c>.</summary>
internal static class RevokeKeyCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = new Argument<string>("id") { Description = $"Its public part: the {KeyForm.IdDigits} letters and digits after {KeyForm.Prefix}." };
        var reason = ReasonOption.Make();
        var command = new ExampledCommand("revoke", "Revoke a key for good.")
        {
            Examples = [("a key that got lost", "derivid keys revoke 0123456789abcdef --reason 'left on a bus'")],
        };
        command.Add(id);
        command.Add(reason);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var key = parsed.GetRequiredValue(id);
            await session.Client.Keys.RevokeAsync(key, parsed.GetValue(reason), token);
            session.Show(
                await session.Client.Keys.GetAsync(key, token),
                (console, revoked) => console.WriteLine($"Revoked: {revoked.Id}, {revoked.Name}."));
            return ExitCode.Done;
        });
        return command;
    }
}
