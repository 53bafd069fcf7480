using System.Globalization;
using Derivid.Cli.Writing;
using Derivid.Client.Curation;
using Spectre.Console;

namespace Derivid.Cli.Curation;

/// <summary>Shows what came of an import.</summary>
internal static class ImportView
{
    public static void Write(IAnsiConsole console, ImportResult result, string file)
    {
        foreach (var fault in result.Faults)
        {
            console.Write(new Text(Words(fault, file) + "\n", new Style(foreground: Color.Red)));
        }

        var import = result.Import;
        console.WriteLine(
            $"{Figures.Count(import.Rows, "row")}: {Figures.Plain(import.Added)} new, {Figures.Plain(import.Changed)} changed, "
            + $"{Figures.Plain(import.Unchanged)} as they were; {Figures.Count(import.Removed, "record")} left out; "
            + $"{Figures.Count(import.Faults, "fault")}.");
        if (import.Message is { } message)
        {
            console.WriteLine(message);
        }

        if (import.State != ImportState.Succeeded)
        {
            return;
        }

        if (import.DryRun)
        {
            console.WriteLine("Take the rows with --commit.");
        }
        else
        {
            console.WriteLine(
                $"Taken into proposal {import.Proposal}. See it with: derivid proposals show {import.Proposal}; "
                + $"hand it in with: derivid proposals submit {import.Proposal}.");
        }
    }

    // As compilers write faults, so that editors can jump there.
    private static string Words(ImportFaultItem fault, string file) => string.Create(
        CultureInfo.InvariantCulture,
        $"{file}:{fault.Line}: {(fault.Column.Length > 0 ? fault.Column : "(row)")}: \"{fault.Value}\"; allowed: {fault.Allowed}");
}
