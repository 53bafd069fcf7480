using System.Text;

namespace Derivid.Cli.Tests;

/// <summary>A prompt at which to type the command.</summary>
internal sealed record Shell(ServiceUnderTest Service)
{
    public Dictionary<string, string> Variables { get; } = new() { ["DERIVID_SERVER"] = Service.Address.ToString() };

    public string Input { get; init; } = "";

    public bool IsTerminal { get; init; }

    public static Shell OfAdministrator(ServiceUnderTest service) => new(service)
    {
        Variables = { ["DERIVID_KEY"] = ServiceUnderTest.AdministratorKey },
    };

    public async Task<Ran> RunAsync(params string[] words)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        using var input = new MemoryStream(Encoding.UTF8.GetBytes(Input));
        var around = new Surroundings(
            input, output, error, name => Variables.GetValueOrDefault(name), IsTerminal, IsTerminal);
        var code = await Tool.RunAsync(words, around, TestContext.Current.CancellationToken);
        return new Ran(code, output.ToString(), error.ToString());
    }
}
