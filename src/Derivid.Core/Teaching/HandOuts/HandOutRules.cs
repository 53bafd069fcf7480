namespace Derivid.Core.Teaching.HandOuts;

/// <summary>What a hand-out of unknowns has to satisfy, beside that no neighbours share a compound.</summary>
public sealed record HandOutRules
{
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
        if (UnknownsPerStudent is < 1 or > 4)
        {
            throw new ArgumentOutOfRangeException(
                nameof(UnknownsPerStudent), UnknownsPerStudent, "Each student gets 1 to 4 unknowns.");
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
