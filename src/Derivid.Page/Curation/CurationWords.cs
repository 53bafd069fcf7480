using Derivid.Core.Curation;
using Derivid.Core.Curation.Readings;

namespace Derivid.Page.Curation;

/// <summary>Words of curation as a curator is told of them.</summary>
public static class CurationWords
{
    /// <summary>How far a proposal has come.</summary>
    /// <param name="state">How far.</param>
    public static string Of(ProposalState state) => state switch
    {
        ProposalState.Draft => "draft",
        ProposalState.Submitted => "waiting for review",
        ProposalState.Reviewed => "approved, not released",
        ProposalState.Released => "released",
        ProposalState.Withdrawn => "given up",
    };

    /// <summary>How far an import has come; what came of it is told by its own message.</summary>
    /// <param name="state">How far.</param>
    public static string Of(ImportState state) => state switch
    {
        ImportState.Queued => "It waits for others to end.",
        ImportState.Running => "It is being read.",
        ImportState.Succeeded => "It was read to its end.",
        ImportState.Failed => "It could not be taken.",
        ImportState.Cancelled => "It ended early.",
        ImportState.Interrupted => "It broke off.",
    };

    /// <summary>What becomes of a record.</summary>
    /// <param name="type">What.</param>
    public static string Of(ChangeType type) => type switch
    {
        ChangeType.Added => "added",
        ChangeType.Changed => "changed",
        ChangeType.Removed => "left out",
    };

    /// <summary>With which step something was said.</summary>
    /// <param name="occasion">The step.</param>
    public static string Of(RemarkOccasion occasion) => occasion switch
    {
        RemarkOccasion.Submission => "handing it in",
        RemarkOccasion.Approval => "approving it",
        RemarkOccasion.HandBack => "handing it back",
        RemarkOccasion.Rebase => "setting it on another version",
        RemarkOccasion.Release => "releasing it",
        RemarkOccasion.Withdrawal => "giving it up",
    };

    /// <summary>What became of what was typed from a source.</summary>
    /// <param name="verdict">What.</param>
    public static string Of(ReadingVerdict verdict) => verdict switch
    {
        ReadingVerdict.Agrees => "agrees",
        ReadingVerdict.Differs => "differs",
        ReadingVerdict.NotPrinted => "not printed there",
        ReadingVerdict.AwaitsSecondReader => "waits for a second person",
        ReadingVerdict.ReadersDiffer => "somebody else read otherwise; a third person has to look",
    };

    /// <summary>The order in which a book lists its compounds.</summary>
    /// <param name="order">The order.</param>
    public static string Of(SheetOrder order) => order switch
    {
        SheetOrder.Name => "name",
        SheetOrder.BoilingPoint => "the compound’s boiling point, solids last",
        SheetOrder.MolarMass => "the compound’s molar mass",
        SheetOrder.Locator => "page, as far as it is known",
    };

    /// <summary>Which lines a sheet has.</summary>
    /// <param name="scope">Which.</param>
    public static string Of(SheetScope scope) => scope switch
    {
        SheetScope.Recalled => "values that nobody has read yet",
        SheetScope.Unread => "all that isn’t read in this source",
        SheetScope.All => "all, also what is read",
    };
}
