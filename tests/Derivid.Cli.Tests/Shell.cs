using System.Text;

namespace Derivid.Cli.Tests;

/// <summary>A prompt at which to type the command.</summary>
internal sealed record Shell(ServiceUnderTest Service)
{
    public Dictionary<string, string> Variables { get; } = new() { ["DERIVID_SERVER"] = Service.Address.ToString() };

    public string Input { get; init; } = "";

    public bool IsTerminal { get; init; }

    public static Shell OfAdministrator(ServiceUnderTest service) => With(service, ServiceUnderTest.AdministratorKey);

    public static Shell With(ServiceUnderTest service, string key) => new(service)
    {
        Variables = { ["DERIVID_KEY"] = key },
    };

    public async Task<Ran> RunAsync(params string[] words)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        using var bytes = new MemoryStream();
        using var input = new MemoryStream(Encoding.UTF8.GetBytes(Input));
        var around = new Surroundings(
            input, output, bytes, error, name => Variables.GetValueOrDefault(name), IsTerminal, IsTerminal);
        var code = await Tool.RunAsync(words, around, TestContext.Current.CancellationToken);
        return new Ran(code, output + Encoding.UTF8.GetString(bytes.ToArray()), error.ToString());
    }
}
