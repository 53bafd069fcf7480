namespace Derivid.Core.Teaching.HandOuts;

/// <summary>A hand-out of unknowns that satisfies its rules.</summary>
public sealed record HandOut
{
    /// <summary>The unknowns. Shape: by student's identifier, then number.</summary>
    public required IReadOnlyList<HandedOutUnknown> Unknowns { get; init; }

    /// <summary>What was found out about each compound of the shelf. Shape: by key.</summary>
    public required IReadOnlyList<Identifiability> Shelf { get; init; }

    /// <summary>Compounds of the shelf that were not used because the rules keep them out. Shape: by key; may be empty.</summary>
    public required IReadOnlyList<string> LeftOut { get; init; }

    /// <summary>Number of unknowns by compound, those kept out not named. Shape: by key.</summary>
    public required IReadOnlyDictionary<string, int> Uses { get; init; }

    /// <summary>Sum of the difficulties of the student with the easiest unknowns.</summary>
    public required double EasiestTotal { get; init; }

    /// <summary>Sum of the difficulties of the student with the hardest unknowns.</summary>
    public required double HardestTotal { get; init; }

    /// <summary>What an instructor should know: compounds left out or flagged, uses that could not be evened. Shape: may be empty.</summary>
    public required IReadOnlyList<string> Remarks { get; init; }
}

/// <summary>One unknown handed to one student.</summary>
/// <param name="StudentKey">The student.</param>
/// <param name="Number">First, second ... unknown of the student, from 1.</param>
/// <param name="Code">The code on the label.</param>
/// <param name="ParentKey">What is inside. Never shown to a student.</param>
public sealed record HandedOutUnknown(string StudentKey, int Number, UnknownCode Code, string ParentKey)
{
    /// <summary>Without the identity, so that a log line gives nothing away.</summary>
    public override string ToString() => $"{Code} for {StudentKey}";
}

/// <summary>Either a hand-out or the reason why there is none.</summary>
/// <param name="HandOut">The hand-out. Missing: null, refused.</param>
/// <param name="Refusal">The reason. Missing: null, handed out.</param>
public sealed record HandOutResult(HandOut? HandOut, HandOutRefusal? Refusal);

/// <summary>Why unknowns could not be handed out.</summary>
/// <param name="Constraint">Which constraint cannot be met.</param>
/// <param name="Sentence">Why, naming students and compounds.</param>
/// <param name="Remedy">What would make it possible.</param>
public sealed record HandOutRefusal(HandOutConstraint Constraint, string Sentence, string Remedy);

/// <summary>What stood in the way of a hand-out.</summary>
public enum HandOutConstraint
{
    /// <summary>No compound of the shelf is identifiable and easy enough.</summary>
    Identifiable,

    /// <summary>A student gets more unknowns than there are compounds to hand out.</summary>
    EnoughCompounds,

    /// <summary>Neighbours cannot all be kept apart with the compounds there are.</summary>
    Neighbours,
}

/// <summary>What a hand-out of unknowns has to satisfy, beside that no neighbours share a compound.</summary>
public sealed record HandOutRules
{
    /// <summary>Most unknowns a student can get.</summary>
    public const int MostUnknownsPerStudent = 4;

    /// <summary>Unknowns each student gets, all different. Bounds: 1 to 4.</summary>
    public int UnknownsPerStudent { get; init; } = 1;

    /// <summary>
    /// Least probability that ideal readings must give the compound among the shelf. Bounds: 0 to 1. Default chosen: at
    /// 0.8 the compound is four times as probable as all others on the shelf together.
    /// </summary>
    public double LeastPosterior { get; init; } = 0.8;

    /// <summary>Compounds harder than this are left out; see <see cref="Identifiability.Difficulty"/>. Bounds: 0 to 1.</summary>
    public double LargestDifficulty { get; init; } = 1;

    /// <summary>Whether compounds below <see cref="LeastPosterior"/> are handed out all the same, flagged.</summary>
    public bool HandsOutUnidentifiable { get; init; }

    /// <summary>Checks the figures.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A figure is NaN or out of bounds.</exception>
    public void Check()
    {
        if (UnknownsPerStudent is < 1 or > MostUnknownsPerStudent)
        {
            throw new ArgumentOutOfRangeException(
                nameof(UnknownsPerStudent), UnknownsPerStudent, $"Each student gets 1 to {MostUnknownsPerStudent} unknowns.");
        }

        if (!(LeastPosterior is >= 0 and <= 1))
        {
            throw new ArgumentOutOfRangeException(nameof(LeastPosterior), LeastPosterior, "A probability lies from 0 to 1.");
        }

        if (!(LargestDifficulty is >= 0 and <= 1))
        {
            throw new ArgumentOutOfRangeException(nameof(LargestDifficulty), LargestDifficulty, "A difficulty lies from 0 to 1.");
        }
    }
}
