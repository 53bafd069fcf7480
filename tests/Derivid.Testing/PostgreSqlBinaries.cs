using System.Globalization;

namespace Derivid.Testing;

/// <summary>Finds PostgreSQL's server programs on this machine.</summary>
public static class PostgreSqlBinaries
{
    private const string DebianFolder = "/usr/lib/postgresql";

    /// <summary>The folder that holds initdb and pg_ctl: on the PATH, else the newest of Debian's.</summary>
    /// <returns>The folder. Missing: null, there is none.</returns>
    public static string? Find()
    {
        var onPath = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator);
        var debian = Directory.Exists(DebianFolder)
            ? Directory.GetDirectories(DebianFolder)
                .OrderByDescending(folder => int.TryParse(
                    Path.GetFileName(folder), NumberStyles.None, CultureInfo.InvariantCulture, out var major) ? major : 0)
                .Select(folder => Path.Combine(folder, "bin"))
            : [];
        return onPath.Concat(debian).FirstOrDefault(folder =>
            File.Exists(Path.Combine(folder, "initdb")) && File.Exists(Path.Combine(folder, "pg_ctl")));
    }
}
