using System.Globalization;

namespace Derivid.Core.Curation;

/// <summary>Takes the findings about one record.</summary>
/// <param name="kind">The kind of record.</param>
/// <param name="key">Its key.</param>
/// <param name="found">Where they go.</param>
internal sealed class RecordFindings(RecordKind kind, string key, ICollection<TableFinding> found)
{
    private const int LongestValue = 100;

    /// <summary>Notes an error unless something holds.</summary>
    public void Require(bool holds, string field, object? value, string allowed)
    {
        if (!holds)
        {
            Add(FindingSeverity.Error, field, value, allowed);
        }
    }

    /// <summary>Notes a warning unless something holds.</summary>
    public void Expect(bool holds, string field, object? value, string allowed)
    {
        if (!holds)
        {
            Add(FindingSeverity.Warning, field, value, allowed);
        }
    }

    private void Add(FindingSeverity severity, string field, object? value, string allowed)
    {
        var text = Convert.ToString(value, CultureInfo.InvariantCulture) ?? "";
        found.Add(new TableFinding(
            severity, kind, key, field, text.Length > LongestValue ? text[..LongestValue] + "…" : text, allowed));
    }
}
