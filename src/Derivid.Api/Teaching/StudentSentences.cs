using Derivid.Core.Teaching.Grading;

namespace Derivid.Api.Teaching;

/// <summary>What a student is told of a criterion whose own sentence would give the answer away.</summary>
public static class StudentSentences
{
    /// <summary>The sentence for a student.</summary>
    /// <param name="line">The line.</param>
    public static string Of(GradeLine line)
    {
        ArgumentNullException.ThrowIfNull(line);
        return line.TellsIdentity ? Stock(line.Criterion) : line.Sentence;
    }

    private static string Stock(CriterionKind criterion) => criterion switch
    {
        CriterionKind.RightCompound => "For the compound claimed, held against the one handed out.",
        CriterionKind.RightClass => "For the class of the compound claimed, held against that of the one handed out.",
        CriterionKind.RangeDistance => "For the melting ranges, held against those listed for the compound handed out.",
        CriterionKind.TestsFitCompound => "For the tests, held against what is expected of the compound handed out.",
        _ => "For this part of the report.",
    };
}
