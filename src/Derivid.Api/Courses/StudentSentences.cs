using Derivid.Core.Teaching.Grading;

namespace Derivid.Api.Courses;

/// <summary>What a student is told of a criterion whose own sentence would give the answer away.</summary>
public static class StudentSentences
{
    /// <summary>The sentence for a student.</summary>
    /// <param name="line">The line.</param>
    public static string Of(GradeLine line)
    {
        ArgumentNullException.ThrowIfNull(line);
        return line.TellsAnswer ? Stock(line.Criterion) : line.Sentence;
    }

    private static string Stock(CriterionKind criterion) => criterion switch
    {
        CriterionKind.RightCompound => "For the compound claimed, held against the one issued.",
        CriterionKind.RightClass => "For the class of the compound claimed, held against that of the one issued.",
        CriterionKind.RangeDistance => "For the melting ranges, held against those listed for the compound issued.",
        CriterionKind.TestsFitCompound => "For the tests, held against what is expected of the compound issued.",
        _ => "For this part of the report.",
    };
}
