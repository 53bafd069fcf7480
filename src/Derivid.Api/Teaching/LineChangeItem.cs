using Derivid.Core.Teaching.Grading;

namespace Derivid.Api.Teaching;

/// <summary>What became of one criterion.</summary>
/// <param name="Criterion">The criterion.</param>
/// <param name="Before">In the first grading. Missing: it was not marked.</param>
/// <param name="After">In the second grading. Missing: it was not marked.</param>
public sealed record LineChangeItem(CriterionKind Criterion, GradeLineItem? Before, GradeLineItem? After)
{
    /// <summary>Translates.</summary>
    /// <param name="change">The change.</param>
    public static LineChangeItem Of(LineChange change)
    {
        ArgumentNullException.ThrowIfNull(change);
        return new LineChangeItem(change.Criterion, Line(change.Before), Line(change.After));
    }

    private static GradeLineItem? Line(GradeLine? line) => line is null ? null : GradeLineItem.Of(line, tellsIdentities: true);
}
