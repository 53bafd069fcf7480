namespace Derivid.Api.Teaching;

/// <summary>What the view of a class can be asked.</summary>
public sealed record OverviewQuery
{
    /// <summary>The grading its items are taken from, by id. Missing: the one published, or none.</summary>
    public string? Grading { get; init; }
}
