using System.Text;

namespace Derivid.Cli;

internal static class EntryPoint
{
    private static Task<int> Main(string[] args)
    {
        if (OperatingSystem.IsWindows())
        {
            Console.OutputEncoding = Encoding.UTF8;
        }

        return Tool.RunAsync(args, Surroundings.OfProcess());
    }
}
