using System.CommandLine;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Spectre.Console;

namespace Derivid.Cli.Curation;

/// <summary><c>derivid proposals</c>.</summary>
internal static class ProposalsCommand
{
    public static Command Make(CommonOptions common) =>
        new("proposals", "Proposals to change the table, and their way to the release; needs an instructor's key.")
        {
            ListProposalsCommand.Make(common),
            ShowProposalCommand.Make(common),
            ProposalAuditCommand.Make(common),
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

/// <summary><c>derivid proposals list</c>.</summary>
internal static class ListProposalsCommand
{
    public static Command Make(CommonOptions common)
    {
        var state = new Option<ProposalState?>("--state")
        {
            Description = "Only those that have come this far: draft, submitted, reviewed, released or withdrawn. Default: all but those withdrawn before they changed anything.",
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
            var people = await People.LoadAsync(session.Client, token);
            session.Show(
                await session.Client.Proposals.ListAsync(parsed.GetValue(state), token).ToListAsync(token),
                (console, proposals) => Write(console, proposals, people));
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, List<ProposalItem> proposals, People people)
    {
        var table = Screen.NewTable("id", "state", "title", "from version", "authors", "last written");
        foreach (var proposal in proposals)
        {
            table.AddTexts(
                proposal.Id,
                ProposalView.StateOf(proposal),
                proposal.Title,
                Figures.Plain(proposal.BaseVersion),
                string.Join(", ", proposal.Authors.Select(people.NameOf)),
                Figures.Moment(proposal.UpdatedAt));
        }

        console.Write(table);
    }
}

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
        var all = new Option<bool>("--all") { Description = "Show also the warnings that the table had before." };
        command.Add(id);
        command.Add(all);
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
            var (people, showsAll) = (await People.LoadAsync(session.Client, token), parsed.GetValue(all));
            session.Show(shown, (console, what) => ProposalView.Write(console, what, people, showsAll));
            return shown.Validation.Errors == 0 ? ExitCode.Done : ExitCode.AnswerIsNo;
        });
        return command;
    }
}

/// <summary><c>derivid proposals audit</c>.</summary>
internal static class ProposalAuditCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = new Argument<string>("id") { Description = "The proposal's id." };
        var command = new ExampledCommand("audit", "Show who wrote what of a proposal, when and why, oldest first.")
        {
            Examples = [("who changed which record", "derivid proposals audit 5f0c0b3f9d1e4a77")],
        };
        command.Add(id);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var people = await People.LoadAsync(session.Client, token);
            session.Show(
                await session.Client.Proposals.ListAuditAsync(parsed.GetRequiredValue(id), token).ToListAsync(token),
                (console, entries) => Write(console, entries, people));
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, List<AuditItem> entries, People people)
    {
        var table = Screen.NewTable("when", "who", "what", "of", "why");
        foreach (var entry in entries)
        {
            table.AddTexts(Figures.Moment(entry.At), people.NameOf(entry.Actor), entry.Action, entry.Resource, entry.Reason ?? "");
        }

        console.Write(table);
    }
}

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
        var idempotencyKey = new Option<string?>("--idempotency-key")
        {
            Description = "A word of your own for this proposal: the same command with the same word makes no other.",
            HelpName = "TEXT",
        };
        var command = new ExampledCommand("create", "Make a proposal: a draft against the current version.")
        {
            Examples =
            [
                ("an empty one", "derivid proposals create --title 'Oximes, page 40'"),
                ("a roll-back", "derivid proposals create --title 'Back to version 1' --restores 1"),
            ],
        };
        foreach (var option in (Option[])[title, reason, restores, idempotencyKey])
        {
            command.Add(option);
        }

        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var request = new ProposalRequest
            {
                Title = parsed.GetRequiredValue(title),
                Reason = parsed.GetValue(reason),
                RestoresVersion = parsed.GetValue(restores),
            };
            session.Show(await session.Client.Proposals.CreateAsync(request, null, parsed.GetValue(idempotencyKey), token), ProposalView.WriteState);
            return ExitCode.Done;
        });
        return command;
    }
}

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

/// <summary><c>derivid release</c>.</summary>
internal static class ReleaseCommand
{
    public const string Name = "release";

    public static Command Make(CommonOptions common) => StepCommand.Make(
        common,
        Name,
        "Release an approved proposal as the next version of the table.",
        "semicarbazones, page 12",
        (proposals, seen, note, token) => proposals.ReleaseAsync(seen, note, token));
}
