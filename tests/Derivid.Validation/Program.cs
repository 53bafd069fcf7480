using System.Diagnostics;
using System.Globalization;
using Derivid.Store.Seeding;
using Derivid.Validation;
using Derivid.Validation.Fitting;

CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
var watch = Stopwatch.StartNew();
if (args is ["fit", var path, ..])
{
    var sweeps = args.Length > 2 ? int.Parse(args[2], CultureInfo.InvariantCulture) : 5;
    new FitCommand(SeedTables.Load(), Console.WriteLine).Run(path, sweeps);
}
else
{
    new ValidationRun(RunOptions.Parse(args), Console.WriteLine).Run();
}

Console.WriteLine($"{watch.Elapsed.TotalSeconds:0} s");
