using System.Text.Json;
using System.Text.Json.Serialization;

namespace Derivid.Validation.Reports;

/// <summary>Every figure of a run under a name of its own, so that a script can set two runs side by side.</summary>
/// <remarks>Written as JSON: names in ordinal order, four decimals; the same figures give the same bytes.</remarks>
public sealed class FigureSheet
{
    private static readonly JsonSerializerOptions Written = new()
    {
        WriteIndented = true,
        NewLine = "\n",
        NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals,
    };

    private readonly SortedDictionary<string, double[]> _figures = new(StringComparer.Ordinal);

    /// <summary>Enters a figure.</summary>
    /// <param name="name">Parts joined by "/", such as "literature/independent/uniform/engine/top1".</param>
    /// <param name="value">The figure.</param>
    public void Add(string name, double value) => _figures.Add(name, [Rounded(value)]);

    /// <summary>Enters a figure with its interval: three numbers.</summary>
    public void Add(string name, Interval value) =>
        _figures.Add(name, [Rounded(value.Value), Rounded(value.Low), Rounded(value.High)]);

    /// <summary>Writes the sheet.</summary>
    /// <param name="path">Where to.</param>
    /// <param name="table">Version of the table.</param>
    /// <param name="model">Version of the model.</param>
    /// <param name="isQuick">Whether the samples were small.</param>
    public void Save(string path, int table, string model, bool isQuick) =>
        File.WriteAllText(path, JsonSerializer.Serialize(new { table, model, isQuick, figures = _figures }, Written) + "\n");

    private static double Rounded(double value) => double.IsFinite(value) ? Math.Round(value, 4) : double.NaN;
}
