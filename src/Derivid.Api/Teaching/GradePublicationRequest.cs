namespace Derivid.Api.Teaching;

/// <summary>Which grades students are to see.</summary>
public sealed record GradePublicationRequest
{
    /// <summary>The grading, by id; it must be finished.</summary>
    public required string Grading { get; init; }
}
