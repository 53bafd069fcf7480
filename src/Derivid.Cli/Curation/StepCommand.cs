using System.CommandLine;
using Derivid.Client.Curation;

namespace Derivid.Cli.Curation;

/// <summary>A command that takes a proposal one step on its way.</summary>
internal static class StepCommand
{
    private const string ExampleId = "5f0c0b3f9d1e4a77";

    /// <summary>Makes it.</summary>
    /// <param name="common">The options every command has.</param>
    /// <param name="name">Its word.</param>
    /// <param name="description">What it does.</param>
    /// <param name="note">A note such as people may write with it.</param>
    /// <param name="step">Takes the step, on the proposal as it is now.</param>
    public static Command Make(
        CommonOptions common,
        string name,
        string description,
        string note,
        Func<ProposalsClient, ProposalItem, string?, CancellationToken, Task<ProposalItem>> step)
    {
        var id = new Argument<string>("id") { Description = "The proposal's id." };
        var words = new Option<string?>("--note") { Description = "Why; it is kept.", HelpName = "TEXT" };
        var path = name == ReleaseCommand.Name ? name : "proposals " + name;
        var command = new ExampledCommand(name, description)
        {
            Examples = [("with a note", $"derivid {path} {ExampleId} --note '{note}'")],
        };
        command.Add(id);
        command.Add(words);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var proposals = session.Client.Proposals;
            var seen = await proposals.GetAsync(parsed.GetRequiredValue(id), token);
            session.Show(await step(proposals, seen, parsed.GetValue(words), token), ProposalView.WriteState);
            return ExitCode.Done;
        });
        return command;
    }
}
