using Derivid.Core.Teaching.Grading;

namespace Derivid.Core.Tests.Teaching.Grading;

/// <summary>What an instructor is told where the best attempt counts; each figure by hand.</summary>
/// <remarks>The usual rubric gives 34 points, and takes 2 for each attempt beyond the first and 6 at most.</remarks>
public sealed class GuessedAttemptsTests
{
    // The eighth costs 6, as much as is ever taken: 34 - 6 = 28. The second costs 2, the third 4.
    [Theory]
    [InlineData(8, 8, "The best of 8 attempts counts: whoever hands in a report made up around each of 8 of the 8 compounds of the shelf is right in 8 cases of 8, with up to 34 points, and still 28 for the last of them. ")]
    [InlineData(2, 8, "The best of 2 attempts counts: whoever hands in a report made up around each of 2 of the 8 compounds of the shelf is right in 2 cases of 8, with up to 34 points, and still 32 for the last of them. ")]
    [InlineData(20, 3, "The best of 20 attempts counts: whoever hands in a report made up around each of 3 of the 3 compounds of the shelf is right in 3 cases of 3, with up to 34 points, and still 30 for the last of them. ")]
    public void GuessingThatPaysIsToldWithWhatToChange(int attempts, int shelf, string expected) => Assert.Equal(
        expected + "Let the last attempt count, allow fewer attempts, or have the rubric take more for each attempt, with a limit that is not so low.",
        GuessedAttempts.Of(Rubric.Usual, attempts, shelf));

    // A tenth of 34 is 3.4. Two of nine: 32 / 9 = 3.56; of ten: 3.2. Three of eighteen: 62 / 18 = 3.44; of nineteen: 3.26.
    [Theory]
    [InlineData(1, 1, false)]
    [InlineData(1, 8, false)]
    [InlineData(8, 1, false)]
    [InlineData(2, 9, true)]
    [InlineData(2, 10, false)]
    [InlineData(3, 18, true)]
    [InlineData(3, 19, false)]
    public void LargeShelfMakesGuessingVain(int attempts, int shelf, bool pays) => Assert.Equal(pays, GuessedAttempts.Of(Rubric.Usual, attempts, shelf) is not null);

    // Whoever's third would cost all 34 points tries two: 34 - 17 = 17 for the second, of three compounds 5.67.
    [Fact]
    public void AttemptThatCostsEverythingIsNotTried()
    {
        var rubric = Rubric.Usual with { Attempts = new AttemptsDeduction { PointsPerAttempt = 17, MostPoints = 100 } };

        Assert.Contains("2 of the 3 compounds of the shelf is right in 2 cases of 3, with up to 34 points, and still 17 for", GuessedAttempts.Of(rubric, 20, 3), StringComparison.Ordinal);
    }

    // Of eight compounds. 7 and 7: (34 - 7) / 8 = 3.375. 6.5 and 6.5: 3.44. Three attempts, 20 each, 40 at most: 14 / 8 = 1.75; 20 at
    // most: 28 / 8 = 3.5. Eight attempts at 20 each, 34 at most: 1.75. The second free: 34 / 8 = 4.25. Nothing taken: the same.
    [Theory]
    [InlineData(2, 1, 7, 7, false)]
    [InlineData(2, 1, 6.5, 6.5, true)]
    [InlineData(3, 1, 20, 40, false)]
    [InlineData(3, 1, 20, 20, true)]
    [InlineData(8, 1, 20, 34, false)]
    [InlineData(2, 2, 20, 40, true)]
    [InlineData(2, 1, 0, 0, true)]
    public void DeductionMakesUpForItOrNot(int attempts, int free, double each, double most, bool pays)
    {
        var rubric = Rubric.Usual with
        {
            Attempts = new AttemptsDeduction { FreeAttempts = free, PointsPerAttempt = (decimal)each, MostPoints = (decimal)most },
        };

        Assert.Equal(pays, GuessedAttempts.Of(rubric, attempts, 8) is not null);
    }

    // Marked by hand: nobody earns it by guessing.
    [Fact]
    public void ReasoningIsNotGuessed()
    {
        var reasoning = new WrittenReasoning { Points = 10 };

        Assert.Null(GuessedAttempts.Of(new Rubric { Name = "By hand", WrittenReasoning = reasoning }, 8, 8));
        Assert.Equal(GuessedAttempts.Of(Rubric.Usual, 8, 8), GuessedAttempts.Of(Rubric.Usual with { WrittenReasoning = reasoning }, 8, 8));
        Assert.NotNull(GuessedAttempts.Of(Rubric.Usual with { Attempts = null }, 2, 8));
    }
}
