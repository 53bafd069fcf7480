using System.CommandLine;
using System.IO.Compression;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Curation;

namespace Derivid.Cli.Curation;

/// <summary><c>derivid import</c>.</summary>
internal sealed class ImportCommand
{
    private readonly Argument<string[]> _files = new("file")
    {
        Description = "The file; - is standard input. Several CSV files, each named after its list, are taken together; so are a ZIP archive of them, and a whole version as JSON.",
        Arity = ArgumentArity.OneOrMore,
    };

    private readonly Option<string?> _list = new("--list")
    {
        Description = "The list its rows belong to, such as derivatives. Default: the file's name; a ZIP archive, and JSON that is an object, hold several.",
        HelpName = "LIST",
    };

    private readonly Option<ExportFormat?> _format = new("--format")
    {
        Description = "csv or json. Default: by the file's name, else csv.",
        HelpName = "FORMAT",
    };

    private readonly Option<bool> _whole = new("--whole")
    {
        Description = "The file is the whole of its lists: leave out the records it doesn't hold.",
    };

    private readonly Option<bool> _commit = new("--commit")
    {
        Description = "Take the rows into the proposal. Default: only read and check them.",
    };

    private readonly Option<string?> _proposal = new("--proposal")
    {
        Description = "The draft to take them into. Default: a new one.",
        HelpName = "ID",
    };

    private readonly Option<string?> _title = new("--title")
    {
        Description = "Title of the new proposal.",
        HelpName = "TEXT",
    };

    private readonly Option<string?> _reason = ReasonOption.Make();

    private ImportCommand()
    {
    }

    public static Command Make(CommonOptions common)
    {
        var parts = new ImportCommand();
        var command = new ExampledCommand(
            "import",
            "Load a file of rows into a proposal: first a dry run that tells everything wrong with it. Exit code 1: there is something.")
        {
            Examples =
            [
                ("check a file, and change nothing", "derivid import derivatives.csv"),
                ("a source, its compounds and their values at once", "derivid import sources.csv parents.csv derivatives.csv"),
                ("a version exported before", "derivid import derivid-table-1.zip --whole --commit"),
                ("then take it into a new proposal",
                    "derivid import derivatives.csv --commit --title 'Semicarbazones, page 12' --reason 'read in the library'"),
                ("rows from another program, into a proposal there is", "derivid import - --list parents --commit --proposal 5f0c0b3f9d1e4a77"),
            ],
        };
        command.Add(parts._files);
        foreach (var option in (Option[])
            [parts._list, parts._format, parts._whole, parts._commit, parts._proposal, parts._title, parts._reason])
        {
            command.Add(option);
        }

        command.SetAction((parsed, token) => parts.RunAsync(parsed, common, token));
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CommonOptions common, CancellationToken cancellationToken)
    {
        var names = parsed.GetRequiredValue(_files);
        var asked = parsed.GetValue(_list);
        if (names is [Files.Standard] && asked is null && parsed.GetValue(_format) is null)
        {
            throw new UsageException("Say with --list which list the rows of standard input belong to.");
        }

        using var session = common.Open(parsed);
        var name = names is [var only] ? only : string.Join(", ", names);
        await using var content = names is [var one] ? Files.OpenRead(one, session.Around) : await TogetherAsync(names, asked, session.Around, cancellationToken);
        var list = asked ?? (names.Length > 1 ? null : ListOf(name));
        var file = new ImportFile(list, content, FormatOf(parsed, name), parsed.GetValue(_whole));
        var target = new ImportTarget(session, parsed.GetValue(_reason));
        var proposal = parsed.GetValue(_proposal) is { } id
            ? await target.FindAsync(id, cancellationToken)
            : await target.MakeAsync(parsed.GetValue(_title) ?? TitleOf(names), cancellationToken);

        var result = await target.LoadAsync(proposal, file, dryRun: !parsed.GetValue(_commit), cancellationToken);
        session.Show(result, (console, shown) => ImportView.Write(console, shown, names));
        return result.Import.State == ImportState.Succeeded && result.Import.Faults == 0 ? ExitCode.Done : ExitCode.AnswerIsNo;
    }

    private static string TitleOf(string[] names)
    {
        var title = "Import of " + string.Join(", ", names.Select(Path.GetFileName));
        return title.Length <= ProposalRequest.LongestTitle ? title : title[..ProposalRequest.LongestTitle];
    }

    // Missing: null, the file holds several.
    private static string? ListOf(string name) =>
        name == Files.Standard || name.EndsWith(".zip", StringComparison.OrdinalIgnoreCase) || (IsJson(name) && IsObject(name))
            ? null
            : Path.GetFileNameWithoutExtension(name);

    // An array is the rows of one list, an object has an array a list.
    private static bool IsObject(string name)
    {
        using var text = new StreamReader(name);
        var letter = text.Read();
        while (letter >= 0 && char.IsWhiteSpace((char)letter))
        {
            letter = text.Read();
        }

        return letter == '{';
    }

    private static bool IsJson(string name) => name.EndsWith(".json", StringComparison.OrdinalIgnoreCase);

    // One archive of them, as exports of whole versions are.
    private static async Task<Stream> TogetherAsync(string[] names, string? list, Surroundings around, CancellationToken cancellationToken)
    {
        if (list is not null || names.FirstOrDefault(name => !name.EndsWith(".csv", StringComparison.OrdinalIgnoreCase)) is not null)
        {
            throw new UsageException("Several files at once are CSV files, each named after its list, without --list.");
        }

        var bytes = new MemoryStream();
        await using (var archive = await ZipArchive.CreateAsync(bytes, ZipArchiveMode.Create, leaveOpen: true, entryNameEncoding: null, cancellationToken))
        {
            foreach (var name in names)
            {
                await using var file = Files.OpenRead(name, around);
                await using var entry = await archive.CreateEntry(Path.GetFileName(name)).OpenAsync(cancellationToken);
                await file.CopyToAsync(entry, cancellationToken);
            }
        }

        bytes.Position = 0;
        return bytes;
    }

    private ExportFormat FormatOf(ParseResult parsed, string name) =>
        parsed.GetValue(_format) ?? (IsJson(name) ? ExportFormat.Json : ExportFormat.Csv);
}

/// <summary>The proposal an import goes into. One made for it is given up again unless rows were taken into it.</summary>
internal sealed class ImportTarget(Session session, string? reason)
{
    private static readonly TimeSpan LastWords = TimeSpan.FromSeconds(10);

    private bool _isMade;

    public Task<ProposalItem> FindAsync(string id, CancellationToken cancellationToken) =>
        session.Client.Proposals.GetAsync(id, cancellationToken);

    public async Task<ProposalItem> MakeAsync(string title, CancellationToken cancellationToken)
    {
        var made = await session.Client.Proposals.CreateAsync(
            new ProposalRequest { Title = title, Reason = reason }, reason, cancellationToken: cancellationToken);
        _isMade = true;
        return made;
    }

    public async Task<ImportResult> LoadAsync(
        ProposalItem proposal, ImportFile file, bool dryRun, CancellationToken cancellationToken)
    {
        var isTaken = false;
        try
        {
            var started = await session.Client.Imports.StartAsync(proposal, file, dryRun, reason, cancellationToken: cancellationToken);
            var ended = await FollowAsync(started, cancellationToken);
            isTaken = !dryRun && ended.State == ImportState.Succeeded;
            var faults = await session.Client.Imports.ListFaultsAsync(ended.Id, cancellationToken).ToListAsync(cancellationToken);
            return new ImportResult(ended, faults);
        }
        finally
        {
            if (_isMade && !isTaken)
            {
                await TryAsync(async token => await session.Client.Proposals.WithdrawAsync(
                    await session.Client.Proposals.GetAsync(proposal.Id, token), "nothing was taken into it", token));
            }
        }
    }

    private async Task<ImportItem> FollowAsync(ImportItem started, CancellationToken cancellationToken)
    {
        try
        {
            return await ImportProgressBar.FollowAsync(session, started, cancellationToken);
        }
        catch (OperationCanceledException)
        {
            await TryAsync(token => session.Client.Imports.CancelAsync(started.Id, cancellationToken: token));
            throw;
        }
    }

    // Tidying up must not hide what went wrong before.
    private static async Task TryAsync(Func<CancellationToken, Task> tidy)
    {
        using var patience = new CancellationTokenSource(LastWords);
        try
        {
            await tidy(patience.Token);
        }
        catch (Exception fault) when (fault is DerividException or HttpRequestException or OperationCanceledException)
        {
        }
    }
}

/// <summary>What came of an import.</summary>
/// <param name="Import">The import, ended.</param>
/// <param name="Faults">Everything wrong with the file, in its order.</param>
internal sealed record ImportResult(ImportItem Import, IReadOnlyList<ImportFaultItem> Faults);
