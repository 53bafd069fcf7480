namespace Derivid.Store.Curation;

/// <summary>A remark on a proposal.</summary>
public sealed record ProposalComment
{
    /// <summary>Names it; later ones have greater numbers.</summary>
    public int Id { get; init; }

    /// <summary>The proposal.</summary>
    public required string ProposalId { get; init; }

    /// <summary>Who made it.</summary>
    public required string Author { get; init; }

    /// <summary>The remark.</summary>
    public required string Text { get; init; }

    /// <summary>When. Units: UTC.</summary>
    public required DateTime AtUtc { get; init; }
}
