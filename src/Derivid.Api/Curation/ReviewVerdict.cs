namespace Derivid.Api.Curation;

/// <summary>What a review comes to.</summary>
public enum ReviewVerdict
{
    /// <summary>It may be released.</summary>
    Approve,

    /// <summary>It goes back to its authors.</summary>
    HandBack,
}
