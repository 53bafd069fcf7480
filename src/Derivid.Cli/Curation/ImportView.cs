using System.Globalization;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Curation;
using Spectre.Console;

namespace Derivid.Cli.Curation;

/// <summary>Shows what came of an import.</summary>
internal static class ImportView
{
    public static void Write(IAnsiConsole console, ImportResult result, IReadOnlyList<string> files)
    {
        foreach (var fault in result.Faults)
        {
            console.Write(new Text(Words(fault, FileOf(fault, files)) + "\n", new Style(foreground: Color.Red)));
        }

        var import = result.Import;
        if (import.State != ImportState.Succeeded)
        {
            console.WriteLine(import.Message ?? "");
            return;
        }

        console.WriteLine(
            $"{Figure.Count(import.Rows, "row")}: {Figures.Plain(import.Added)} new, {Figures.Plain(import.Changed)} changed, "
            + $"{Figures.Plain(import.Unchanged)} as they were; {Figure.Count(import.Removed, "record")} left out.");
        if (import.DryRun)
        {
            console.WriteLine("This was a dry run: nothing was changed. Take the rows with --commit.");
        }
        else
        {
            console.WriteLine(
                $"Taken into proposal {import.Proposal}. See it with: derivid proposals show {import.Proposal}; "
                + $"hand it in with: derivid proposals submit {import.Proposal}.");
        }
    }

    private static string FileOf(ImportFaultItem fault, IReadOnlyList<string> files) =>
        files is [var only] ? only.EndsWith(".csv", StringComparison.OrdinalIgnoreCase) || fault.Table is not { } list ? only : $"{only} ({list})"
        : files.FirstOrDefault(file => Path.GetFileNameWithoutExtension(file) == fault.Table) ?? string.Join(", ", files);

    // As compilers write faults, so that editors can jump there.
    private static string Words(ImportFaultItem fault, string file) => string.Create(
        CultureInfo.InvariantCulture,
        $"{file}:{(fault.Line > 0 ? fault.Line : "")}: {(fault.Column.Length > 0 ? fault.Column : "(row)")}: \"{fault.Value}\"; allowed: {Advice.InOwnWords(fault.Allowed)}");
}

/// <summary>Follows an import to its end, with a progress bar where somebody looks.</summary>
internal static class ImportProgressBar
{
    public static Task<ImportItem> FollowAsync(
        Session session, ImportItem started, CancellationToken cancellationToken) =>
        session.FollowAsync(
            session.Client.Imports.FollowAsync(started.Id, cancellationToken),
            started,
            import => import.HasEnded ? 1 : import.Percent / 100.0,
            import => $"{WireJson.Word(import.State)}, {Figure.Count(import.Rows, "row")}, "
                + Figure.Count(import.Faults, "fault"),
            cancellationToken);
}
