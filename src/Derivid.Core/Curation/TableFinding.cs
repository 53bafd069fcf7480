using System.Globalization;

namespace Derivid.Core.Curation;

/// <summary>Something wrong or noteworthy about one record of a table.</summary>
/// <param name="Severity">Whether it stands in the way of a release.</param>
/// <param name="Kind">The kind of record.</param>
/// <param name="Key">The record's key.</param>
/// <param name="Field">Name of the field.</param>
/// <param name="Value">The value found, as text. Missing: empty.</param>
/// <param name="Allowed">What is allowed there, or what to look at, in a sentence.</param>
public sealed record TableFinding(
    FindingSeverity Severity, RecordKind Kind, string Key, string Field, string Value, string Allowed)
{
    /// <summary>Whether it only says that something isn't there yet, as of most new records; such ones are told last.</summary>
    public bool IsRote { get; init; }
}

/// <summary>What a finding stands in the way of.</summary>
public enum FindingSeverity
{
    /// <summary>The table can't be released with it.</summary>
    Error,

    /// <summary>A curator should look; the table can be released.</summary>
    Warning,
}

/// <summary>Takes the findings about one record.</summary>
/// <param name="kind">The kind of record.</param>
/// <param name="key">Its key.</param>
/// <param name="found">Where they go.</param>
public sealed class RecordFindings(RecordKind kind, string key, ICollection<TableFinding> found)
{
    private const int LongestValue = 100;

    /// <summary>Notes an error unless something holds.</summary>
    /// <param name="holds">Whether it does.</param>
    /// <param name="field">The property it is about.</param>
    /// <param name="value">What stands there. Missing: null.</param>
    /// <param name="allowed">What is allowed there, in a sentence.</param>
    public void Require(bool holds, string field, object? value, string allowed)
    {
        if (!holds)
        {
            Add(FindingSeverity.Error, field, value, allowed);
        }
    }

    /// <summary>Notes a warning unless something holds.</summary>
    /// <inheritdoc cref="Require"/>
    public void Expect(bool holds, string field, object? value, string allowed)
    {
        if (!holds)
        {
            Add(FindingSeverity.Warning, field, value, allowed);
        }
    }

    /// <summary>Notes a warning of what isn't there yet; see <see cref="TableFinding.IsRote"/>.</summary>
    /// <param name="field">The property it is about.</param>
    /// <param name="allowed">What should be there, in a sentence.</param>
    /// <param name="value">What stands there. Missing: null.</param>
    public void Lack(string field, string allowed, object? value = null) => Add(FindingSeverity.Warning, field, value, allowed, isRote: true);

    private void Add(FindingSeverity severity, string field, object? value, string allowed, bool isRote = false)
    {
        var text = Convert.ToString(value, CultureInfo.InvariantCulture) ?? "";
        found.Add(new TableFinding(
            severity, kind, key, field, text.Length > LongestValue ? text[..LongestValue] + "…" : text, allowed) { IsRote = isRote });
    }
}
