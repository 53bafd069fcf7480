using System.CommandLine;
using Derivid.Cli.Writing;
using Derivid.Client.Curation;
using Spectre.Console;

namespace Derivid.Cli.Curation;

/// <summary><c>derivid proposals list</c>.</summary>
internal static class ListProposalsCommand
{
    public static Command Make(CommonOptions common)
    {
        var state = new Option<ProposalState?>("--state")
        {
            Description = "Only those that have come this far: draft, submitted, reviewed, released or withdrawn.",
            HelpName = "STATE",
        };
        var command = new ExampledCommand("list", "List the proposals, newest first.")
        {
            Examples = [("what waits for a review", "derivid proposals list --state submitted")],
        };
        command.Add(state);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            session.Show(await session.Client.Proposals.ListAsync(parsed.GetValue(state), token).ToListAsync(token), Write);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, List<ProposalItem> proposals)
    {
        var table = Screen.NewTable("id", "state", "title", "from version", "authors", "last written");
        foreach (var proposal in proposals)
        {
            table.AddTexts(
                proposal.Id,
                ProposalView.StateOf(proposal),
                proposal.Title,
                Figures.Plain(proposal.BaseVersion),
                string.Join(", ", proposal.Authors),
                Figures.Moment(proposal.UpdatedAt));
        }

        console.Write(table);
    }
}
