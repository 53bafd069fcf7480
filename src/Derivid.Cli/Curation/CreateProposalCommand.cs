using System.CommandLine;
using Derivid.Client.Curation;

namespace Derivid.Cli.Curation;

/// <summary><c>derivid proposals create</c>.</summary>
internal static class CreateProposalCommand
{
    public static Command Make(CommonOptions common)
    {
        var title = new Option<string>("--title") { Description = "What it is about.", HelpName = "TEXT", Required = true };
        var reason = new Option<string?>("--reason") { Description = "Why, with the sources.", HelpName = "TEXT" };
        var restores = new Option<int?>("--restores")
        {
            Description = "A version to go back to: the proposal begins with all that differs from it.",
            HelpName = "VERSION",
        };
        var command = new ExampledCommand("create", "Make a proposal: a draft against the current version.")
        {
            Examples =
            [
                ("an empty one", "derivid proposals create --title 'Oximes, page 40'"),
                ("a roll-back", "derivid proposals create --title 'Back to version 1' --restores 1"),
            ],
        };
        command.Add(title);
        command.Add(reason);
        command.Add(restores);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var request = new ProposalRequest
            {
                Title = parsed.GetRequiredValue(title),
                Reason = parsed.GetValue(reason),
                RestoresVersion = parsed.GetValue(restores),
            };
            session.Show(await session.Client.Proposals.CreateAsync(request, null, token), ProposalView.WriteState);
            return ExitCode.Done;
        });
        return command;
    }
}
