using System.Globalization;
using System.Reflection;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore.Migrations;

namespace Derivid.Store.Sqlite;

/// <summary>Copies of the one file that SQLite keeps everything in.</summary>
/// <remarks>
/// Copying the file itself while somebody writes gives a copy that is half old and half new, and leaves out what stands in the
/// write-ahead log; the database makes its copies by itself, of one moment. Source: SQLite, Online Backup API
/// (sqlite.org/backup.html) and PRAGMA integrity_check (sqlite.org/pragma.html).
/// </remarks>
public static class SqliteBackup
{
    // What belongs to a database, the database itself last.
    private static readonly string[] Ends = ["-wal", "-shm", ""];

    /// <summary>Copies a database, which may be in use, and checks the copy.</summary>
    /// <param name="database">The database's file.</param>
    /// <param name="file">The copy. Nothing is overwritten; it appears whole or not at all, readable by its owner only.</param>
    /// <returns>What the copy holds.</returns>
    /// <exception cref="InvalidOperationException">It could not be done; the reason is in the message.</exception>
    public static SqliteContents Write(string database, string file) => Told(() =>
    {
        MustExist(database);
        MustNotExist(file);
        var part = file + ".part";
        try
        {
            using (Owned(part))
            {
            }

            using (var from = Open(database, SqliteOpenMode.ReadWrite))
            using (var to = Open(part, SqliteOpenMode.ReadWrite))
            {
                from.BackupDatabase(to);

                // One file, without a log beside it, whatever is copied with it afterwards.
                Ask(to, "PRAGMA journal_mode = DELETE;");
            }

            var contents = Check(part);
            Settle(part, file);
            return contents;
        }
        finally
        {
            File.Delete(part);
        }
    });

    /// <summary>Looks whether a file is a sound database of this service.</summary>
    /// <param name="file">The file; it is not changed.</param>
    /// <returns>What it holds.</returns>
    /// <exception cref="InvalidOperationException">It is not; the reason is in the message.</exception>
    public static SqliteContents Check(string file) => Told(() =>
    {
        MustExist(file);
        using var connection = Open(file, SqliteOpenMode.ReadOnly);
        if (Ask(connection, "PRAGMA integrity_check(1);") is var found && found != "ok")
        {
            throw new InvalidOperationException($"{file} is damaged: {found}.");
        }

        if (Ask(connection, "SELECT name FROM sqlite_master WHERE name = 'table_versions';").Length == 0)
        {
            throw new InvalidOperationException($"{file} is a sound database, but none of this service.");
        }

        if (Ask(connection, "SELECT \"table\" FROM pragma_foreign_key_check LIMIT 1;") is { Length: > 0 } torn)
        {
            throw new InvalidOperationException($"{file} is damaged: rows of {torn} refer to rows that are not there.");
        }

        var migration = Ask(connection, "SELECT migration_id FROM \"__EFMigrationsHistory\" ORDER BY migration_id DESC LIMIT 1;");
        return new SqliteContents(
            migration,
            Count("SELECT max(number) FROM table_versions;"),
            Count("SELECT count(*) FROM courses;"),
            Count("SELECT count(*) FROM course_reports;"),
            Count("SELECT count(*) FROM identifications;"),
            new FileInfo(file).Length);

        int Count(string question) => int.TryParse(Ask(connection, question), CultureInfo.InvariantCulture, out var count) ? count : 0;
    });

    /// <summary>Puts a copy in the place of a database that nobody uses; the one before is kept beside it.</summary>
    /// <param name="file">The copy; it stays.</param>
    /// <param name="database">The database's file; it need not exist.</param>
    /// <param name="now">Names what is kept. Units: UTC.</param>
    /// <returns>What it holds, and where the database before it is. Missing: null, there was none.</returns>
    /// <exception cref="InvalidOperationException">It could not be done, and nothing was changed; the reason is in the message.</exception>
    public static (SqliteContents Holds, string? Former) Restore(string file, string database, DateTime now) => Told(() =>
    {
        var contents = Check(file);
        if (!Known().Contains(contents.Migration))
        {
            throw new InvalidOperationException($"{file} was last used by a newer build (migration {contents.Migration}); restore it with that one.");
        }

        Directory.CreateDirectory(Path.GetDirectoryName(Path.GetFullPath(database))!);
        var part = database + ".part";
        try
        {
            using (var copy = Owned(part))
            using (var from = File.OpenRead(file))
            {
                from.CopyTo(copy);
            }

            string? former = null;
            if (File.Exists(database))
            {
                MustBeUnused(database);
                former = string.Create(CultureInfo.InvariantCulture, $"{database}.{now:yyyyMMdd'T'HHmmss'Z'}");
                MustNotExist(former);
                foreach (var end in Ends.Where(end => File.Exists(database + end)))
                {
                    File.Move(database + end, former + end);
                }
            }

            Settle(part, database);
            return (contents, former);
        }
        finally
        {
            File.Delete(part);
        }
    });

    // Only who has a database alone can take it out of write-ahead logging, which a service leaves it in as long as it runs. What is
    // too damaged to be asked is used by nobody.
    private static void MustBeUnused(string database)
    {
        try
        {
            using var connection = Open(database, SqliteOpenMode.ReadWrite);
            connection.DefaultTimeout = 1;
            Ask(connection, "PRAGMA journal_mode = DELETE;");
        }
        catch (SqliteException fault) when (fault.SqliteErrorCode is 5 or 6)  // busy, locked
        {
            throw new InvalidOperationException($"{database} is in use; stop the service first.");
        }
        catch (SqliteException fault) when (fault.SqliteErrorCode is 11 or 26)  // corrupt, no database
        {
        }
    }

    private static void MustExist(string file)
    {
        if (!File.Exists(file))
        {
            throw new InvalidOperationException($"There is no file {file}.");
        }
    }

    private static void MustNotExist(string file)
    {
        if (File.Exists(file))
        {
            throw new InvalidOperationException($"{file} exists already, and nothing is overwritten.");
        }
    }

    private static HashSet<string> Known() =>
        [.. typeof(SqliteEngine).Assembly.GetTypes().Select(type => type.GetCustomAttribute<MigrationAttribute>()?.Id).OfType<string>()];

    private static FileStream Owned(string file)
    {
        var options = new FileStreamOptions { Mode = FileMode.Create, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        return new FileStream(file, options);
    }

    // On the disk before it has its name.
    private static void Settle(string part, string file)
    {
        using (var written = File.OpenHandle(part, FileMode.Open, FileAccess.ReadWrite))
        {
            RandomAccess.FlushToDisk(written);
        }

        File.Move(part, file);
    }

    private static SqliteConnection Open(string file, SqliteOpenMode mode)
    {
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = file, Mode = mode, Pooling = false }.ConnectionString);
        connection.Open();
        return connection;
    }

    private static string Ask(SqliteConnection connection, string question)
    {
        using var command = connection.CreateCommand();
        command.CommandText = question;
        return Convert.ToString(command.ExecuteScalar(), CultureInfo.InvariantCulture) ?? "";
    }

    private static T Told<T>(Func<T> work)
    {
        try
        {
            return work();
        }
        catch (Exception fault) when (fault is SqliteException or IOException or UnauthorizedAccessException)
        {
            throw new InvalidOperationException(fault.Message, fault);
        }
    }
}

/// <summary>What a database holds, in figures by which a person knows it again.</summary>
/// <param name="Migration">The last migration it was brought to.</param>
/// <param name="TableVersion">Number of the newest version of the reference table; 0 where there is none.</param>
/// <param name="Courses">Number of courses.</param>
/// <param name="Reports">Number of reports.</param>
/// <param name="Identifications">Number of identifications stored.</param>
/// <param name="Bytes">Length of its file. Units: bytes.</param>
public sealed record SqliteContents(string Migration, int TableVersion, int Courses, int Reports, int Identifications, long Bytes)
{
    /// <summary>As a person reads it.</summary>
    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"table version {TableVersion}, courses {Courses}, reports {Reports}, identifications {Identifications}, {Bytes / 1024.0 / 1024.0:0.0} MiB, migration {Migration}");
}
