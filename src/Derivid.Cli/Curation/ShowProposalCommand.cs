using System.CommandLine;

namespace Derivid.Cli.Curation;

/// <summary><c>derivid proposals show</c>.</summary>
internal static class ShowProposalCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = new Argument<string>("id") { Description = "The proposal's id." };
        var command = new ExampledCommand(
            "show", "Show a proposal: what it changes, and what the rules say of it. Exit code 1: it breaks one.")
        {
            Examples = [("before a review", "derivid proposals show 5f0c0b3f9d1e4a77")],
        };
        command.Add(id);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var proposals = session.Client.Proposals;
            var proposal = await proposals.GetAsync(parsed.GetRequiredValue(id), token);
            var shown = new ProposalInFull(
                proposal,
                await proposals.ValidateAsync(proposal.Id, token),
                await proposals.ListChangesAsync(proposal.Id, cancellationToken: token).ToListAsync(token),
                await proposals.ListCommentsAsync(proposal.Id, token).ToListAsync(token));
            session.Show(shown, ProposalView.Write);
            return shown.Validation.Errors == 0 ? ExitCode.Done : ExitCode.AnswerIsNo;
        });
        return command;
    }
}
