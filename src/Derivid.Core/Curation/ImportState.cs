namespace Derivid.Core.Curation;

/// <summary>How far an import has come.</summary>
public enum ImportState
{
    /// <summary>It waits for others to end.</summary>
    Queued,

    /// <summary>It is being read.</summary>
    Running,

    /// <summary>Everything was read; unless it was a dry run, its rows are changes of the proposal.</summary>
    Succeeded,

    /// <summary>Rows can't be taken, or the proposal was changed meanwhile; nothing was taken.</summary>
    Failed,

    /// <summary>It was called off; nothing was taken.</summary>
    Cancelled,

    /// <summary>Its reading broke off, as when the process that read it ended; nothing was taken.</summary>
    Interrupted,
}
