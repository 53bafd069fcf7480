namespace Derivid.Api.Table;

/// <summary>How a process finds its database at the start, and learns of versions of the table that another one releases.</summary>
/// <param name="Migrates">Whether it brings the database up to date itself; else it waits until that is done.</param>
/// <param name="Interval">How often it looks when it hears nothing.</param>
/// <param name="Listens">Whether it listens for announcements.</param>
public sealed record TableWatchSettings(bool Migrates, TimeSpan Interval, bool Listens)
{
    private const double ShortestSeconds = 0.1;
    private const double LongestSeconds = 3600;
    private const double DefaultSeconds = 5;

    /// <summary>
    /// Reads the settings <c>Database:MigrateAtStart</c> (default true), <c>Table:PollSeconds</c> (0.1 to 3600; default 5)
    /// and <c>Table:Listens</c> (default true).
    /// </summary>
    /// <param name="settings">All settings.</param>
    /// <exception cref="InvalidOperationException">A setting can't be read or is out of bounds.</exception>
    public static TableWatchSettings Read(IConfiguration settings)
    {
        ArgumentNullException.ThrowIfNull(settings);
        var seconds = settings.GetValue("Table:PollSeconds", DefaultSeconds);
        return seconds is >= ShortestSeconds and <= LongestSeconds
            ? new TableWatchSettings(
                settings.GetValue("Database:MigrateAtStart", true),
                TimeSpan.FromSeconds(seconds),
                settings.GetValue("Table:Listens", true))
            : throw new InvalidOperationException(
                $"Table:PollSeconds is {settings["Table:PollSeconds"]}; {ShortestSeconds} to {LongestSeconds} s are allowed.");
    }
}
