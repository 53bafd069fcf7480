using System.Globalization;
using Derivid.Client.Teaching;
using Spectre.Console;

namespace Derivid.Cli.Teaching;

/// <summary>Follows a grading to its end, with a progress bar where somebody looks.</summary>
internal static class GradingProgressBar
{
    public static async Task<GradingStatus> FollowAsync(
        Session session, string course, GradingStatus started, CancellationToken cancellationToken)
    {
        var looks = session.Client.Grades.FollowAsync(course, started.Id, cancellationToken);
        if (!session.Around.IsErrorTerminal)
        {
            return await looks.LastAsync(cancellationToken);
        }

        return await Screen.Of(session.Around.Error, isTerminal: true, session.Around).Progress()
            .Columns(new TaskDescriptionColumn(), new ProgressBarColumn(), new PercentageColumn(), new RemainingTimeColumn())
            .StartAsync(async progress =>
            {
                var bar = progress.AddTask(Words(started), maxValue: Math.Max(1, started.Total));
                var last = started;
                await foreach (var grading in looks)
                {
                    last = grading;
                    bar.Value = grading.State == GradingState.Finished ? bar.MaxValue : grading.Done;
                    bar.Description = Words(grading);
                }

                return last;
            });
    }

    private static string Words(GradingStatus grading) =>
        string.Create(CultureInfo.InvariantCulture, $"{grading.Done} of {grading.Total} reports");
}
