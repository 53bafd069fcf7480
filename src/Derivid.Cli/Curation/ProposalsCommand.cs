using System.CommandLine;

namespace Derivid.Cli.Curation;

/// <summary><c>derivid proposals</c>.</summary>
internal static class ProposalsCommand
{
    public static Command Make(CommonOptions common) =>
        new("proposals", "Proposals to change the table, and their way to the release; needs an instructor's key.")
        {
            ListProposalsCommand.Make(common),
            ShowProposalCommand.Make(common),
            CreateProposalCommand.Make(common),
            StepCommand.Make(
                common, "submit", "Hand a draft in for review.", "it is complete",
                (proposals, seen, note, token) => proposals.SubmitAsync(seen, note, token)),
            StepCommand.Make(
                common, "approve", "Say that a proposal may be released; by somebody who had no hand in it.", "values agree with the source",
                (proposals, seen, note, token) => proposals.ApproveAsync(seen, note, token)),
            StepCommand.Make(
                common, "hand-back", "Hand a proposal back to its authors.", "line 7 needs a source",
                (proposals, seen, note, token) => proposals.HandBackAsync(seen, note, token)),
            StepCommand.Make(
                common, "rebase", "Set a proposal on the current version; it is a draft again.", "version 3 came in between",
                (proposals, seen, note, token) => proposals.RebaseAsync(seen, note, token)),
            StepCommand.Make(
                common, "withdraw", "Give a proposal up.", "the source was wrong",
                (proposals, seen, note, token) => proposals.WithdrawAsync(seen, note, token)),
        };
}
