using System.Diagnostics;
using Derivid.Testing;

namespace Derivid.Api.Tests.Clients;

/// <summary>Node and its packages beside this file, fetched once as their lock file says.</summary>
public sealed class Node : IAsyncLifetime
{
    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    /// <summary>The folder with the packages, the documented commands and what they make.</summary>
    public static string Folder { get; } = RepositoryFiles.At("tests", "Derivid.Api.Tests", "Clients");

    public async ValueTask InitializeAsync()
    {
        var (code, told) = await RunAsync("npm", ["ci"]);
        Assert.True(code == 0, $"npm ci failed; Node 20 with npm is needed, and packages in reach:\n{told}");
    }

    public ValueTask DisposeAsync() => ValueTask.CompletedTask;

    /// <summary>Runs one of the commands that package.json names.</summary>
    /// <returns>What it printed.</returns>
    public static async Task<string> DoAsync(string command)
    {
        var (code, told) = await RunAsync("npm", ["run", "--silent", command]);
        Assert.True(code == 0, $"npm run {command} ended with {code}:\n{told}");
        return told;
    }

    /// <summary>Runs a script.</summary>
    /// <returns>What it printed.</returns>
    public static async Task<string> RunScriptAsync(string file, params (string Name, string Value)[] surroundings)
    {
        var (code, told) = await RunAsync("node", [file], surroundings);
        Assert.True(code == 0, $"{file} ended with {code}:\n{told}");
        return told;
    }

    private static async Task<(int Code, string Told)> RunAsync(
        string program, IEnumerable<string> words, params (string Name, string Value)[] surroundings)
    {
        var start = new ProcessStartInfo(program, words) { WorkingDirectory = Folder, RedirectStandardOutput = true, RedirectStandardError = true };
        start.Environment["REDOCLY_SUPPRESS_UPDATE_NOTICE"] = "true";
        foreach (var (name, value) in surroundings)
        {
            start.Environment[name] = value;
        }

        using var process = Process.Start(start) ?? throw new InvalidOperationException($"{program} can't be started.");
        var (output, error) = (process.StandardOutput.ReadToEndAsync(Patience), process.StandardError.ReadToEndAsync(Patience));
        await process.WaitForExitAsync(Patience);
        return (process.ExitCode, process.ExitCode == 0 ? await output : await output + await error);
    }
}
