using BenchmarkDotNet.Running;
using Derivid.Benchmarks.Load;

if (args is ["load"])
{
    await LoadTable.RunAsync();
}
else
{
    BenchmarkSwitcher.FromAssembly(typeof(LoadTable).Assembly).Run(args);
}
