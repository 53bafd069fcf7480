using System.CommandLine;
using System.CommandLine.Help;
using Derivid.Cli.Curation;
using Derivid.Cli.Identify;
using Derivid.Cli.Keys;
using Derivid.Cli.Practice;
using Derivid.Cli.Teaching;

namespace Derivid.Cli;

/// <summary>All commands.</summary>
internal static class DerividCommand
{
    private const string Description =
        "Identifies unknown aldehydes and ketones from their derivatives, and keeps the reference table, by a Derivid service.";

    public static RootCommand Make(CommonOptions common)
    {
        var root = new RootCommand(Description)
        {
            HelpName = "derivid",
        };
        common.AddTo(root);
        root.Add(IdentifyCommand.Make(common));
        root.Add(DecideCommand.Make(common));
        root.Add(WhatIfCommand.Make(common));
        root.Add(PrepareCommand.Make(common));
        root.Add(ReadingGuideCommand.Make(common));
        root.Add(ImportCommand.Make(common));
        root.Add(VerifyCommand.Make(common));
        root.Add(LearnCommand.Make(common));
        root.Add(ProposalsCommand.Make(common));
        root.Add(ReleaseCommand.Make(common));
        root.Add(DiffCommand.Make(common));
        root.Add(ExportCommand.Make(common));
        root.Add(CourseCommand.Make(common));
        root.Add(ThermometersCommand.Make(common));
        root.Add(KeysCommand.Make(common));

        var help = root.Options.OfType<HelpOption>().Single();
        help.Action = new HelpWithExamples((HelpAction)help.Action!);
        return root;
    }
}
