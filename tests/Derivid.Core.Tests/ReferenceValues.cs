using System.Globalization;

namespace Derivid.Core.Tests;

/// <summary>Reads the comma-separated number files of tests/reference-values; fails loudly on anything unexpected.</summary>
internal static class ReferenceValues
{
    /// <summary>Rows of numbers under an exact header.</summary>
    public static IReadOnlyList<double[]> Numbers(string file, string header)
    {
        var lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "reference-values", file));
        Assert.Equal(header, lines[0]);
        var width = header.Split(',').Length;
        return [.. lines.Skip(1).Select(line =>
        {
            var cells = line.Split(',');
            Assert.Equal(width, cells.Length);
            return cells.Select(cell => double.Parse(cell, CultureInfo.InvariantCulture)).ToArray();
        })];
    }
}
