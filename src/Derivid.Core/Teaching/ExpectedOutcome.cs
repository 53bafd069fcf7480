using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Teaching;

/// <summary>How a spot test is expected to turn out with a compound.</summary>
internal static class ExpectedOutcome
{
    /// <summary>Rates of positives above this are expected positive, below its complement negative. Chosen, as the next steps' words.</summary>
    private const double ClearRate = 0.65;

    /// <summary>The outcome expected, or doubtful where the table lets it go either way.</summary>
    /// <param name="testKey">The test.</param>
    /// <param name="parent">Index of the compound in the snapshot.</param>
    /// <param name="snapshot">The table.</param>
    public static SpotTestOutcome Of(string testKey, int parent, TableSnapshot snapshot) =>
        snapshot.SpotTests.Row(testKey).Positive[parent] switch
        {
            > ClearRate => SpotTestOutcome.Positive,
            < 1 - ClearRate => SpotTestOutcome.Negative,
            _ => SpotTestOutcome.Doubtful,
        };
}
