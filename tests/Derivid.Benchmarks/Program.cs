using System.Globalization;
using BenchmarkDotNet.Running;
using Derivid.Benchmarks.Class;
using Derivid.Benchmarks.Load;
using Derivid.Benchmarks.Start;
using Derivid.Benchmarks.Tables;

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
else if (args is ["tables"])
{
    await SizesTable.RunAsync();
}
else if (args is ["tables", var parents])
{
    await SizesTable.RowAsync(int.Parse(parents, CultureInfo.InvariantCulture));
}
else
{
    BenchmarkSwitcher.FromAssembly(typeof(LoadTable).Assembly).Run(args);
}
