using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;

namespace Derivid.Testing;

/// <summary>The service as a process of its own, on a loopback port.</summary>
/// <remarks>Started from the output of the test project, which refers to the service.</remarks>
public sealed class ServiceProcess : IAsyncDisposable
{
    /// <summary>A key that opens everything in tests and nothing elsewhere.</summary>
    public const string AdministratorKey =
        "dvd_0000000000000000_0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef";

    private const string Listening = "Now listening on: ";
    private static readonly TimeSpan LongestStart = TimeSpan.FromMinutes(2);

    private readonly Process _process;
    private readonly ConcurrentQueue<string> _output = new();
    private readonly TaskCompletionSource<Uri> _address = new(TaskCreationOptions.RunContinuationsAsynchronously);

    private ServiceProcess(IEnumerable<string> command, string folder, IEnumerable<(string Name, string Value)> settings)
    {
        var start = new ProcessStartInfo
        {
            WorkingDirectory = folder,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        foreach (var word in command)
        {
            if (start.FileName.Length == 0)
            {
                start.FileName = word;
            }
            else
            {
                start.ArgumentList.Add(word);
            }
        }

        foreach (var (name, value) in settings)
        {
            start.Environment[name.Replace(":", "__", StringComparison.Ordinal)] = value;
        }

        _process = new Process { StartInfo = start };
        _process.OutputDataReceived += (_, line) => Take(line.Data);
        _process.ErrorDataReceived += (_, line) => Take(line.Data);
    }

    /// <summary>Everything it printed so far.</summary>
    public string Output => string.Join('\n', _output);

    /// <summary>Speaks to it; knows its address once that is known.</summary>
    public HttpClient Client { get; } = new();

    /// <summary>The most memory it has held so far, as the system counts it. Units: MB.</summary>
    public double PeakMegabytes
    {
        get
        {
            _process.Refresh();
            return _process.PeakWorkingSet64 / 1e6;
        }
    }

    /// <summary>How long processors have worked for it so far.</summary>
    public TimeSpan ProcessorTime
    {
        get
        {
            _process.Refresh();
            return _process.TotalProcessorTime;
        }
    }

    /// <summary>Begins to count how long its threads, and those of whoever asks, are ready to run and wait for a processor.</summary>
    public ProcessorWait WatchWaiting() => new(_process.Id, Environment.ProcessId);

    /// <summary>Starts one and waits until it is ready.</summary>
    /// <param name="connectionString">Its database.</param>
    /// <param name="folder">The folder it works in.</param>
    /// <param name="settings">Further settings.</param>
    public static async Task<ServiceProcess> StartAsync(
        string connectionString, string folder, params (string Name, string Value)[] settings)
    {
        var service = Begin([], connectionString, folder, settings);
        try
        {
            await service.ReadyAsync();
            return service;
        }
        catch
        {
            await service.DisposeAsync();
            throw;
        }
    }

    /// <summary>Starts one and waits for nothing.</summary>
    /// <param name="within">A command that runs the command behind it, such as one that takes rights away. Shape: may be empty.</param>
    /// <param name="connectionString">Its database.</param>
    /// <param name="folder">The folder it works in.</param>
    /// <param name="settings">Further settings.</param>
    public static ServiceProcess Begin(
        IEnumerable<string> within, string connectionString, string folder, params (string Name, string Value)[] settings)
    {
        var service = new ServiceProcess(
            [.. within, "dotnet", Path.Combine(AppContext.BaseDirectory, "Derivid.Api.dll"), "--urls", "http://127.0.0.1:0"],
            folder,
            [("ConnectionStrings:Derivid", connectionString), .. settings]);
        service._process.Start();
        service._process.BeginOutputReadLine();
        service._process.BeginErrorReadLine();
        return service;
    }

    /// <summary>Waits until it listens.</summary>
    /// <exception cref="InvalidOperationException">It ended instead.</exception>
    public async Task ListensAsync()
    {
        using var patience = new CancellationTokenSource(LongestStart);
        var ended = _process.WaitForExitAsync(patience.Token);
        if (await Task.WhenAny(_address.Task, ended) == ended)
        {
            await ended;
            throw new InvalidOperationException($"The service ended with {_process.ExitCode}:\n{Output}");
        }

        Client.BaseAddress ??= await _address.Task;
    }

    /// <summary>Waits until it is ready.</summary>
    /// <exception cref="InvalidOperationException">It ended instead.</exception>
    public async Task ReadyAsync()
    {
        await ListensAsync();
        using var patience = new CancellationTokenSource(LongestStart);
        while (!(await Client.GetAsync("/health/ready", patience.Token)).IsSuccessStatusCode)
        {
            await Task.Delay(20, patience.Token);
        }
    }

    /// <summary>Waits until it has ended by itself.</summary>
    /// <returns>Its exit code.</returns>
    public async Task<int> EndedAsync()
    {
        using var patience = new CancellationTokenSource(LongestStart);
        await _process.WaitForExitAsync(patience.Token);
        return _process.ExitCode;
    }

    /// <summary>Tells it to stop, as the system does (SIGTERM), and waits until it has.</summary>
    /// <returns>How long it took.</returns>
    public async Task<TimeSpan> StopAsync()
    {
        var since = Stopwatch.StartNew();
        using var kill = Process.Start("kill", ["-TERM", $"{_process.Id}"]);
        await _process.WaitForExitAsync();
        return since.Elapsed;
    }

    /// <summary>Kills it (SIGKILL): it gets no chance to tidy up.</summary>
    public async Task KillAsync()
    {
        _process.Kill();
        await _process.WaitForExitAsync();
    }

    /// <inheritdoc/>
    /// <remarks>Killed, not stopped.</remarks>
    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        await KillAsync();
        _process.Dispose();
    }

    private void Take(string? line)
    {
        if (line is null)
        {
            return;
        }

        _output.Enqueue(line);
        var place = line.IndexOf(Listening, StringComparison.Ordinal);
        if (place >= 0)
        {
            _address.TrySetResult(new Uri(line[(place + Listening.Length)..].Trim()));
        }
    }
}

/// <summary>How long threads were ready to run and waited for a processor: tells a slow service from a busy machine.</summary>
/// <remarks>
/// Threads that wait at once count each. Zero where the kernel doesn't tell. Source: Linux kernel documentation, "Scheduler
/// Statistics", /proc/(pid)/schedstat: its second figure, in nanoseconds.
/// </remarks>
public sealed class ProcessorWait
{
    private readonly int[] _processes;
    private readonly Dictionary<string, long> _before;

    internal ProcessorWait(params int[] processes)
    {
        _processes = processes;
        _before = Nanoseconds();
    }

    /// <summary>The sum since this was made, of the threads there are now.</summary>
    public TimeSpan SoFar => TimeSpan.FromTicks(
        Nanoseconds().Sum(thread => thread.Value - _before.GetValueOrDefault(thread.Key)) / TimeSpan.NanosecondsPerTick);

    private Dictionary<string, long> Nanoseconds()
    {
        var waited = new Dictionary<string, long>();
        foreach (var thread in _processes.Select(process => $"/proc/{process}/task").Where(Directory.Exists).SelectMany(Directory.GetDirectories))
        {
            try
            {
                waited[thread] = long.Parse(File.ReadAllText(thread + "/schedstat").Split(' ')[1], CultureInfo.InvariantCulture);
            }
            catch (IOException)
            {
                // The thread has ended.
            }
        }

        return waited;
    }
}
