using System.Collections.Concurrent;
using System.Diagnostics;

namespace Derivid.Api.Tests;

/// <summary>The service as a process of its own, on a loopback port.</summary>
internal sealed class ServiceProcess : IAsyncDisposable
{
    private const string Listening = "Now listening on: ";
    private static readonly TimeSpan LongestStart = TimeSpan.FromMinutes(2);

    private readonly Process _process;
    private readonly ConcurrentQueue<string> _output = new();
    private readonly TaskCompletionSource<Uri> _address = new(TaskCreationOptions.RunContinuationsAsynchronously);

    private ServiceProcess(string connectionString, string folder, (string Name, string Value)[] settings)
    {
        var start = new ProcessStartInfo("dotnet")
        {
            WorkingDirectory = folder,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            ArgumentList = { typeof(Program).Assembly.Location, "--urls", "http://127.0.0.1:0" },
            Environment = { ["ConnectionStrings__Derivid"] = connectionString },
        };
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

    public HttpClient Client { get; } = new();

    /// <summary>Starts one and waits until it is ready.</summary>
    /// <param name="connectionString">Its database.</param>
    /// <param name="folder">The folder it works in.</param>
    /// <param name="settings">Further settings.</param>
    public static async Task<ServiceProcess> StartAsync(
        string connectionString, string folder, params (string Name, string Value)[] settings)
    {
        var service = new ServiceProcess(connectionString, folder, settings);
        service._process.Start();
        service._process.BeginOutputReadLine();
        service._process.BeginErrorReadLine();
        using var patience = new CancellationTokenSource(LongestStart);
        service.Client.BaseAddress = await service._address.Task.WaitAsync(patience.Token);
        while (!(await service.Client.GetAsync("/health/ready", patience.Token)).IsSuccessStatusCode)
        {
            await Task.Delay(20, patience.Token);
        }

        return service;
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

    /// <summary>The most memory it has held so far, as the system counts it. Units: MB.</summary>
    public double PeakMegabytes
    {
        get
        {
            _process.Refresh();
            return _process.PeakWorkingSet64 / 1e6;
        }
    }

    /// <inheritdoc/>
    /// <remarks>Killed, not stopped: it gets no chance to tidy up.</remarks>
    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        if (!_process.HasExited)
        {
            _process.Kill();
        }

        await _process.WaitForExitAsync();
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
