namespace Derivid.Store.Teaching;

/// <summary>One report of a grading.</summary>
public sealed class GradingEntry
{
    /// <summary>The grading.</summary>
    public required string GradingId { get; init; }

    /// <summary>The report.</summary>
    public required string ReportId { get; init; }

    /// <summary>Whether it is done: its grade is stored, or <see cref="Problem"/> says why there is none.</summary>
    public bool IsDone { get; set; }

    /// <summary>Why it could not be graded. Missing: null, it could or isn't done yet.</summary>
    public string? Problem { get; set; }
}
