using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Npgsql;

namespace Derivid.Testing;

/// <summary>A PostgreSQL server of the test's own, from local binaries: loopback only, in a temporary folder.</summary>
/// <remarks>
/// A durable one keeps fsync on and may be stopped, killed and started again under the same address. Dispose it, or
/// the end of the process does; either stops the server at once and deletes the folder.
/// </remarks>
public sealed class PostgreSqlCluster : IAsyncDisposable
{
    private const string Superuser = "postgres";
    private const string FastSettings = " -c fsync=off -c synchronous_commit=off -c full_page_writes=off";

    private readonly string _binaries;
    private readonly string _folder;
    private readonly bool _durable;
    private readonly int _port = FreePort();
    private bool _isFrozen;
    private bool _isStopped;

    private PostgreSqlCluster(string binaries, bool durable)
    {
        _binaries = binaries;
        _durable = durable;
        _folder = Directory.CreateTempSubdirectory("derivid-postgresql-").FullName;
        AppDomain.CurrentDomain.ProcessExit += OnProcessExit;
    }

    /// <summary>Connects to the cluster's first database as its superuser.</summary>
    public string ConnectionString => new NpgsqlConnectionStringBuilder
    {
        Host = "127.0.0.1",
        Port = _port,
        Username = Superuser,
        Database = "postgres",
    }.ConnectionString;

    private string DataFolder => Path.Combine(_folder, "data");

    private string PostmasterFile => Path.Combine(DataFolder, "postmaster.pid");

    private string Postmaster => File.ReadLines(PostmasterFile).First();

    private string LogFile => Path.Combine(_folder, "commands.log");

    /// <summary>Makes and starts a cluster.</summary>
    /// <param name="durable">Whether to keep fsync on, for tests of crashes.</param>
    /// <exception cref="InvalidOperationException">There are no binaries, or the server doesn't start.</exception>
    public static async Task<PostgreSqlCluster> StartNewAsync(bool durable)
    {
        var binaries = PostgreSqlBinaries.Find() ?? throw new InvalidOperationException(
            "These tests start and stop a PostgreSQL server. Install its server programs (Debian and Ubuntu: apt-get install postgresql), or put the folder of initdb and pg_ctl on the PATH.");
        var cluster = new PostgreSqlCluster(binaries, durable);
        try
        {
            await cluster.InitialiseAsync();
            await cluster.StartAsync();
            return cluster;
        }
        catch
        {
            await cluster.DisposeAsync();
            throw;
        }
    }

    /// <summary>Starts the server, at first or, a durable one, after <see cref="StopAsync"/>.</summary>
    /// <exception cref="InvalidOperationException">It isn't durable, so it would have lost what it committed last.</exception>
    public Task StartAsync()
    {
        if (_isStopped && !_durable)
        {
            throw new InvalidOperationException("Only a durable cluster has after a stop what was committed before it.");
        }

        var settings = string.Create(
            CultureInfo.InvariantCulture,
            $"-c listen_addresses=127.0.0.1 -c port={_port} -c unix_socket_directories={_folder}");
        return RunAsync(
            "pg_ctl", "start", "-w", "-s", "-D", DataFolder, "-l", Path.Combine(_folder, "server.log"),
            "-o", _durable ? settings : settings + FastSettings);
    }

    /// <summary>Stops the server as a power cut would: no checkpoint, connections dropped.</summary>
    public Task StopAsync()
    {
        _isStopped = true;
        return RunAsync("pg_ctl", "stop", "-w", "-s", "-m", "immediate", "-D", DataFolder);
    }

    /// <summary>Freezes every process of the server: connections stay open, are even taken, and nothing is answered.</summary>
    /// <remarks>Needs Linux: the processes are found under /proc.</remarks>
    public async Task FreezeAsync()
    {
        // The one that makes the others first, so that there are none it makes meanwhile.
        await SignalAsync("STOP", [Postmaster]);
        await SignalAsync("STOP", Children());
        _isFrozen = true;
    }

    /// <summary>Lets a frozen server go on.</summary>
    public async Task ThawAsync()
    {
        await SignalAsync("CONT", [.. Children(), Postmaster]);
        _isFrozen = false;
    }

    /// <inheritdoc />
    public async ValueTask DisposeAsync()
    {
        AppDomain.CurrentDomain.ProcessExit -= OnProcessExit;
        if (_isFrozen)
        {
            await ThawAsync();
        }

        if (File.Exists(PostmasterFile))
        {
            await StopAsync();
        }

        Directory.Delete(_folder, recursive: true);
    }

    private async Task InitialiseAsync()
    {
        if (Environment.IsPrivilegedProcess)
        {
            using var chown = Process.Start("chown", [Superuser, _folder]);
            await chown.WaitForExitAsync();
        }

        string[] durability = _durable ? [] : ["--no-sync"];
        await RunAsync(
            "initdb", ["-D", DataFolder, "-U", Superuser, "-A", "trust", "-E", "UTF8", "--locale=C", .. durability]);
    }

    private async Task RunAsync(string program, params string[] arguments)
    {
        // The shell gives the command a file for output: the server inherits the handles, and whoever read a pipe
        // would wait until the server ends. The server refuses to run as root.
        string[] asWhom = Environment.IsPrivilegedProcess ? ["runuser", "-u", Superuser, "--"] : [];
        var start = new ProcessStartInfo("/bin/sh") { WorkingDirectory = _folder };
        string[] words =
            ["-c", "log=$0; exec \"$@\" >>\"$log\" 2>&1 </dev/null", LogFile, .. asWhom, Path.Combine(_binaries, program), .. arguments];
        foreach (var word in words)
        {
            start.ArgumentList.Add(word);
        }

        using var process = Process.Start(start)!;
        await process.WaitForExitAsync();
        if (process.ExitCode != 0)
        {
            var serverLog = Path.Combine(_folder, "server.log");
            throw new InvalidOperationException(
                $"{program} ended with {process.ExitCode}: {await File.ReadAllTextAsync(LogFile)}{(File.Exists(serverLog) ? await File.ReadAllTextAsync(serverLog) : "")}");
        }
    }

    // The fourth word of a process's state is its parent; the second is a name in brackets and may hold anything.
    private string[] Children() => [.. Directory.GetFiles("/proc", "stat", new EnumerationOptions { RecurseSubdirectories = true, MaxRecursionDepth = 1, IgnoreInaccessible = true })
        .Where(file => char.IsAsciiDigit(file["/proc/".Length]))
        .Where(file => TextOf(file) is { } state && state[(state.LastIndexOf(')') + 1)..].Split(' ') is [_, _, var parent, ..] && parent == Postmaster)
        .Select(file => file.Split('/')[2])];

    // Missing: null, the process has ended since.
    private static string? TextOf(string file)
    {
        try
        {
            return File.ReadAllText(file);
        }
        catch (IOException)
        {
            return null;
        }
    }

    private static async Task SignalAsync(string signal, string[] processes)
    {
        using var kill = Process.Start("kill", ["-" + signal, .. processes]);
        await kill.WaitForExitAsync();
        if (kill.ExitCode != 0)
        {
            throw new InvalidOperationException($"kill -{signal} ended with {kill.ExitCode}.");
        }
    }

    private void OnProcessExit(object? sender, EventArgs e) => DisposeAsync().AsTask().GetAwaiter().GetResult();

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
