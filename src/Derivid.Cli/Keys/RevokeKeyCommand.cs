using System.CommandLine;
using Spectre.Console;

namespace Derivid.Cli.Keys;

/// <summary><c>derivid keys revoke</c>.</summary>
internal static class RevokeKeyCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = new Argument<string>("id") { Description = "Its public part: the 16 letters and digits after dvd_." };
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
