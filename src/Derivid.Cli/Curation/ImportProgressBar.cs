using Derivid.Cli.Writing;
using Derivid.Client.Curation;
using Spectre.Console;

namespace Derivid.Cli.Curation;

/// <summary>Follows an import to its end, with a progress bar where somebody looks.</summary>
internal static class ImportProgressBar
{
    public static async Task<ImportItem> FollowAsync(
        Session session, ImportItem started, CancellationToken cancellationToken)
    {
        var looks = session.Client.Imports.FollowAsync(started.Id, cancellationToken);
        if (!session.Around.IsErrorTerminal)
        {
            return await looks.LastAsync(cancellationToken);
        }

        return await Screen.Of(session.Around.Error, isTerminal: true, session.Around).Progress()
            .Columns(new TaskDescriptionColumn(), new ProgressBarColumn(), new PercentageColumn(), new RemainingTimeColumn())
            .StartAsync(async progress =>
            {
                var bar = progress.AddTask(Words(started));
                var last = started;
                await foreach (var import in looks)
                {
                    last = import;
                    bar.Value = import.HasEnded ? bar.MaxValue : import.Percent;
                    bar.Description = Words(import);
                }

                return last;
            });
    }

    private static string Words(ImportItem import) =>
        $"{import.State.ToString().ToLowerInvariant()}, {Figures.Count(import.Rows, "row")}, {Figures.Count(import.Faults, "fault")}";
}
