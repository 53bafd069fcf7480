using Derivid.Core.Teaching.Grading;

namespace Derivid.Api.Teaching;

/// <summary>The points of one criterion and why.</summary>
/// <param name="Criterion">The criterion.</param>
/// <param name="Points">Points given; below 0 where points are taken.</param>
/// <param name="Maximum">Most points it could give; 0 where it only takes.</param>
/// <param name="Sentence">Why. For students without what would give the answer away.</param>
public sealed record GradeLineItem(CriterionKind Criterion, double Points, double Maximum, string Sentence)
{
    /// <summary>Translates.</summary>
    /// <param name="line">The line.</param>
    /// <param name="tellsIdentities">Whether answers may be told.</param>
    public static GradeLineItem Of(GradeLine line, bool tellsIdentities)
    {
        ArgumentNullException.ThrowIfNull(line);
        return new GradeLineItem(
            line.Criterion,
            (double)line.Points,
            (double)line.Maximum,
            tellsIdentities ? line.Sentence : StudentSentences.Of(line));
    }
}
