using System.CommandLine;

namespace Derivid.Cli.Curation;

/// <summary><c>derivid diff</c>.</summary>
internal static class DiffCommand
{
    public static Command Make(CommonOptions common)
    {
        var from = new Argument<int>("from") { Description = "A version of the table." };
        var to = new Argument<int>("to") { Description = "Another version." };
        var list = new Option<string?>("--list") { Description = "Only in this list, such as derivatives.", HelpName = "LIST" };
        var command = new ExampledCommand("diff", "Show what differs between two versions of the table. Exit code 1: something does.")
        {
            Examples =
            [
                ("what version 2 brought", "derivid diff 1 2"),
                ("the derivatives it added, by key, with jq",
                    "derivid diff 1 2 --list derivatives --json | jq -r '.[] | select(.type == \"added\") | .key'"),
            ],
        };
        command.Add(from);
        command.Add(to);
        command.Add(list);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var changes = await session.Client.Table
                .CompareAsync(parsed.GetRequiredValue(from), parsed.GetRequiredValue(to), parsed.GetValue(list), token)
                .ToListAsync(token);
            session.Show(changes, ChangeView.Write);
            return changes.Count == 0 ? ExitCode.Done : ExitCode.AnswerIsNo;
        });
        return command;
    }
}
