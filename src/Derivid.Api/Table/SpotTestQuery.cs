namespace Derivid.Api.Table;

/// <summary>Which spot tests to list.</summary>
public sealed record SpotTestQuery : PageQuery
{
    /// <summary>Key of the question the test asks, which its family shares.</summary>
    public string? QuestionKey { get; init; }
}
