namespace Derivid.Client.Curation;

/// <summary>What a finding stands in the way of.</summary>
public enum FindingSeverity
{
    /// <summary>The table can't be released with it.</summary>
    Error,

    /// <summary>A curator should look; the table can be released.</summary>
    Warning,
}
