namespace Derivid.Client.Curation;

/// <summary>What a change does to a record.</summary>
public enum ChangeType
{
    /// <summary>There was none of this key.</summary>
    Added,

    /// <summary>Some of its fields are altered.</summary>
    Changed,

    /// <summary>It is left out.</summary>
    Removed,
}
