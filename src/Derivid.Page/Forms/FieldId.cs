namespace Derivid.Page.Forms;

/// <summary>Ids of fields and of what belongs to them.</summary>
public static class FieldId
{
    /// <summary>A field's id.</summary>
    /// <param name="name">Its name.</param>
    public static string Of(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return "field" + string.Concat(name.Select(c => char.IsAsciiLetterOrDigit(c) ? c : '-'));
    }

    /// <summary>The ids of what describes a field: its hint and its faults.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="hasHint">Whether it has a hint.</param>
    /// <param name="hasFaults">Whether it has faults.</param>
    /// <returns>Missing: null, nothing does.</returns>
    public static string? Description(string name, bool hasHint, bool hasFaults) => (hasHint, hasFaults) switch
    {
        (true, true) => $"{Of(name)}-hint {Of(name)}-faults",
        (true, false) => Of(name) + "-hint",
        (false, true) => Of(name) + "-faults",
        (false, false) => null,
    };
}
