namespace Derivid.Store.Curation;

/// <summary>How far an import has come, as its reader counts it while others look.</summary>
/// <remarks>Thread safety: one writer, any number of readers; each figure is whole, all of them together need not agree.</remarks>
public sealed class ImportProgress
{
    /// <summary>How much is done. Bounds: 0 to 100.</summary>
    public int Percent { get; internal set; }

    /// <summary>Rows read so far.</summary>
    public int Rows { get; internal set; }

    /// <summary>Faults found so far.</summary>
    public int Faults { get; internal set; }

    /// <summary>Rows that add a record.</summary>
    public int Added { get; internal set; }

    /// <summary>Rows that change a record.</summary>
    public int Changed { get; internal set; }

    /// <summary>Rows that say what the proposed table says already.</summary>
    public int Unchanged { get; internal set; }

    /// <summary>Records left out, because a whole list was sent without them.</summary>
    public int Removed { get; internal set; }
}
