namespace Derivid.Core.Curation;

/// <summary>With which step of a proposal something was said about it.</summary>
public enum RemarkOccasion
{
    /// <summary>It was handed in for review.</summary>
    Submission,

    /// <summary>A reviewer approved it.</summary>
    Approval,

    /// <summary>A reviewer handed it back to its authors.</summary>
    HandBack,

    /// <summary>It was set on another version.</summary>
    Rebase,

    /// <summary>It was released.</summary>
    Release,

    /// <summary>It was given up.</summary>
    Withdrawal,
}
