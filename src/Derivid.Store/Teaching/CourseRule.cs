namespace Derivid.Store.Teaching;

/// <summary>What a write to a course can run up against.</summary>
public enum CourseRule
{
    /// <summary>It was changed since it was read.</summary>
    Stale,

    /// <summary>Reports are handed in, so unknowns can't be handed out anew.</summary>
    ReportsHandedIn,

    /// <summary>The report is handed in, so it can't be changed.</summary>
    HandedIn,

    /// <summary>Another draft for the assignment is open.</summary>
    DraftOpen,

    /// <summary>No attempt is left.</summary>
    AttemptsUsed,

    /// <summary>The course takes no reports any more.</summary>
    Closed,
}
