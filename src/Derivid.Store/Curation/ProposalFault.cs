namespace Derivid.Store.Curation;

/// <summary>Why a proposal was not written.</summary>
public enum ProposalFault
{
    /// <summary>It was.</summary>
    None,

    /// <summary>There is no such proposal.</summary>
    NotFound,

    /// <summary>Somebody wrote it since the revision named.</summary>
    Stale,

    /// <summary>It hasn't come that far, or is past it.</summary>
    WrongState,

    /// <summary>An author may not review or release; it takes a second person.</summary>
    SamePerson,

    /// <summary>Records it changes were changed by a version released since.</summary>
    Outdated,

    /// <summary>The table it makes breaks a rule.</summary>
    Invalid,

    /// <summary>It changes nothing.</summary>
    Empty,
}
