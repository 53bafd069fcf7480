using Derivid.Api.Http;

namespace Derivid.Api.Teaching;

/// <summary>What the list of grades can be asked.</summary>
public sealed record GradeQuery : RowQuery
{
    /// <summary>The grading, by id: for graders and further up. Missing: the one published.</summary>
    public string? Grading { get; init; }

    /// <summary>Grades of one student. Missing: of all.</summary>
    public string? Student { get; init; }
}
