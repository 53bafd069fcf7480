using System.CommandLine;
using Derivid.Client;

namespace Derivid.Cli.Curation;

/// <summary><c>derivid export</c>.</summary>
internal static class ExportCommand
{
    public static Command Make(CommonOptions common)
    {
        var version = new Argument<int?>("version")
        {
            Description = "The version. Default: the current one.",
            Arity = ArgumentArity.ZeroOrOne,
        };
        var list = new Option<string?>("--list")
        {
            Description = "One list, such as derivatives. Default: all.",
            HelpName = "LIST",
        };
        var format = new Option<ExportFormat?>("--format")
        {
            Description = "csv or json; all lists as csv are a ZIP archive. Default: csv, with --json json.",
            HelpName = "FORMAT",
        };
        var package = new Option<bool>("--data-package")
        {
            Description = "All lists as a Data Package: with what each column holds, licence, sources, and how to cite it.",
        };
        var output = new Option<string?>("--output", "-o")
        {
            Description = "File to write. Default: standard output.",
            HelpName = "FILE",
        };
        var command = new ExampledCommand("export", "Write a version of the table out.")
        {
            Examples =
            [
                ("everything, one CSV file a list", "derivid export --output table.zip"),
                ("one list of version 1", "derivid export 1 --list derivatives > derivatives.csv"),
                ("everything as JSON", "derivid export --format json -o table.json"),
                ("version 1, to be cited", "derivid export 1 --data-package -o derivid-table-1.zip"),
            ],
        };
        command.Add(version);
        command.Add(list);
        command.Add(format);
        command.Add(package);
        command.Add(output);
        command.Validators.Add(parsed =>
        {
            if (parsed.GetValue(package) && (parsed.GetValue(list) is not null || parsed.GetValue(format) is not null))
            {
                parsed.AddError("--data-package is all lists, as CSV; it goes with neither --list nor --format.");
            }
        });
        command.SetAction(async (parsed, token) =>
        {
            var form = parsed.GetValue(format) ?? (common.IsJson(parsed) ? ExportFormat.Json : ExportFormat.Csv);
            var isPackage = parsed.GetValue(package);
            var isArchive = isPackage || (parsed.GetValue(list) is null && form == ExportFormat.Csv);
            var path = parsed.GetValue(output) ?? Files.Standard;
            using var session = common.Open(parsed);
            if (isArchive && path == Files.Standard && session.Around.IsOutputTerminal)
            {
                throw new UsageException("A ZIP archive is nothing for a terminal; name a file with --output, or one list with --list.");
            }

            var number = parsed.GetValue(version) ?? (await session.Client.Table.GetCurrentVersionAsync(token)).Number;
            await using var export = isPackage
                ? await session.Client.Table.ExportDataPackageAsync(number, token)
                : await session.Client.Table.ExportAsync(number, parsed.GetValue(list), form, token);
            await using var target = Files.Create(path, session.Around);
            await export.CopyToAsync(target, token);
            return ExitCode.Done;
        });
        return command;
    }
}
