namespace Derivid.Core.Curation;

/// <summary>How far a proposal has come.</summary>
public enum ProposalState
{
    /// <summary>Changes are being gathered.</summary>
    Draft,

    /// <summary>Handed in for review; its changes stand still.</summary>
    Submitted,

    /// <summary>Approved by a second person; it may be released.</summary>
    Reviewed,

    /// <summary>Its changes stand in a version of the table.</summary>
    Released,

    /// <summary>Given up.</summary>
    Withdrawn,
}
