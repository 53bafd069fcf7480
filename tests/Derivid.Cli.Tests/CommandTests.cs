using System.CommandLine;
using System.CommandLine.Parsing;
using System.Diagnostics;

namespace Derivid.Cli.Tests;

/// <summary>What all commands share.</summary>
public sealed class CommandTests(ServiceUnderTest service)
{
    private readonly Shell _shell = new(service);

    [Fact]
    public async Task HelpOfEveryCommandShowsItsExamples()
    {
        foreach (var (path, command) in Leaves(Root(), []))
        {
            var help = (await _shell.RunAsync([.. path, "--help"])).Exits(ExitCode.Done).Output;
            var examples = Assert.IsType<ExampledCommand>(command).Examples;

            Assert.NotEmpty(examples);
            Assert.All(examples, example => Assert.Contains(example.Line, help, StringComparison.Ordinal));
            Assert.Contains("--server", help, StringComparison.Ordinal);
            Assert.Contains("Usage:\n  derivid " + string.Join(' ', path), help, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void EveryExampleIsACommandThatCanBeTyped()
    {
        var root = Root();
        var lines = Leaves(root, []).SelectMany(leaf => ((ExampledCommand)leaf.Command).Examples).Select(e => e.Line).ToList();

        Assert.NotEmpty(lines);
        Assert.All(lines, line =>
        {
            var typed = line.Split(" | ")[0].Split(" > ")[0].Replace('\'', '"');
            var words = CommandLineParser.SplitCommandLine(typed).ToArray();
            Assert.Equal("derivid", words[0]);
            Assert.Empty(root.Parse(words[1..]).Errors);
        });
    }

    [Fact]
    public async Task ServiceThatIsNotThereIsSaidSo()
    {
        var ran = (await _shell.RunAsync("identify", "--melting-point", "48", "--server", "http://127.0.0.1:1"))
            .Exits(ExitCode.NotReachable);

        Assert.StartsWith("derivid: ", ran.Error, StringComparison.Ordinal);
        Assert.Empty(ran.Output);
    }

    [Theory]
    [InlineData("--server", "127.0.0.1:5080")]
    [InlineData("--server", "ftp://127.0.0.1")]
    public async Task AddressThatIsNoneIsAUsageError(params string[] words) =>
        (await _shell.RunAsync(["identify", "--melting-point", "48", .. words])).Exits(ExitCode.Usage);

    [Theory]
    [InlineData]
    [InlineData("keys")]
    [InlineData("guess")]
    [InlineData("identify", "--jsn")]
    public async Task UnfinishedOrUnknownCommandIsAUsageError(params string[] words) =>
        (await _shell.RunAsync(words)).Exits(ExitCode.Usage);

    [Fact]
    public async Task ProgramItselfReadsEnvironmentAndStandardInput()
    {
        var start = new ProcessStartInfo("dotnet", ["exec", typeof(Tool).Assembly.Location, "identify", "--file", "-", "--json"])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            Environment = { ["DERIVID_SERVER"] = service.Address.ToString(), ["LC_ALL"] = "de_DE.UTF-8" },
        };
        using var process = Process.Start(start)!;
        await process.StandardInput.WriteAsync("""{ "meltingPoint": "48,5 °C" }""");
        process.StandardInput.Close();
        var output = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        var ran = new Ran(process.ExitCode, output, "").Exits(ExitCode.Done);

        Assert.Equal(48.5, ran.Json.GetProperty("readings")[0].GetProperty("asRead").GetProperty("onsetCelsius").GetDouble());
    }

    private static RootCommand Root() => DerividCommand.Make(new CommonOptions(Surroundings.OfProcess()));

    private static IEnumerable<(string[] Path, Command Command)> Leaves(Command command, string[] path) =>
        command.Subcommands.Count == 0
            ? [(path, command)]
            : command.Subcommands.SelectMany(sub => Leaves(sub, [.. path, sub.Name]));
}
