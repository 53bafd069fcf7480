using BenchmarkDotNet.Running;
using Derivid.Benchmarks.Class;
using Derivid.Benchmarks.Load;
using Derivid.Benchmarks.Start;

if (args is ["load"])
{
    await LoadTable.RunAsync();
}
else if (args is ["class"])
{
    await ClassTable.RunAsync();
}
else if (args is ["start", var folder])
{
    await StartTable.RunAsync(folder);
}
else
{
    BenchmarkSwitcher.FromAssembly(typeof(LoadTable).Assembly).Run(args);
}
