using Derivid.Core.Teaching.Grading;

namespace Derivid.Core.Tests.Teaching.Grading;

/// <summary>The bounds of every figure of a rubric: met, they are allowed; passed, the figure is named.</summary>
public sealed class RubricTests
{
    public static TheoryData<string, double, double, double, Func<double, Rubric>> Figures => new()
    {
        { "/PointStep", 0.01, 10, 0.001, x => Usual with { PointStep = (decimal)x } },
        { "/ExpectedDerivatives", 1, 5, 1, x => Usual with { ExpectedDerivatives = (int)x } },
        { "/FarthestCelsius", 1, 500, 0.1, x => Usual with { FarthestCelsius = x } },
        { "/ExpectedTests", 1, 20, 1, x => Usual with { ExpectedTests = (int)x } },
        { "RightCompound/Points", 0, 1000, 0.1, x => Usual with { RightCompound = new RightCompound { Points = (decimal)x } } },
        { "RightCompound/GroupShare", 0, 1, 0.01, x => Usual with { RightCompound = new RightCompound { Points = 1, GroupShare = x } } },
        { "RightCompound/LargestGroup", 2, 20, 1, x => Usual with { RightCompound = new RightCompound { Points = 1, LargestGroup = (int)x } } },
        { "RightClass/Points", 0, 1000, 0.1, x => Usual with { RightClass = new RightClass { Points = (decimal)x } } },
        { "RightClass/FunctionShare", 0, 1, 0.01, x => Usual with { RightClass = new RightClass { Points = 1, FunctionShare = x } } },
        { "RightClass/UnreasonedShare", 0, 1, 0.01, x => Usual with { RightClass = new RightClass { Points = 1, UnreasonedShare = x } } },
        { "SupportedClaim/Points", 0, 1000, 0.1, x => Usual with { SupportedClaim = new SupportedClaim { Points = (decimal)x } } },
        { "SupportedClaim/FullPosterior", 0, 1, 0.01, x => Claim(c => c with { FullPosterior = x }) },
        { "SupportedClaim/GroupShare", 0, 1, 0.01, x => Claim(c => c with { GroupShare = x }) },
        { "SupportedClaim/LargestGroup", 1, 20, 1, x => Claim(c => c with { LargestGroup = (int)x }) },
        { "SupportedClaim/RunnerUpRank", 1, 50, 1, x => Claim(c => c with { RunnerUpRank = (int)x }) },
        { "SupportedClaim/RunnerUpPosterior", 0, 1, 0.01, x => Claim(c => c with { RunnerUpPosterior = x }) },
        { "SupportedClaim/RunnerUpShare", 0, 1, 0.01, x => Claim(c => c with { RunnerUpShare = x }) },
        { "RangeWidth/Points", 0, 1000, 0.1, x => Usual with { RangeWidth = new RangeWidth { Points = (decimal)x } } },
        { "RangeWidth/FullSpanCelsius", 0, 20, 0.1, x => Usual with { RangeWidth = new RangeWidth { Points = 1, FullSpanCelsius = x, ZeroSpanCelsius = 40 } } },
        { "RangeWidth/ZeroSpanCelsius", 2.01, 50, 0.01, x => Usual with { RangeWidth = new RangeWidth { Points = 1, ZeroSpanCelsius = x } } },
        { "RangeWidth/SingleFigureShare", 0, 1, 0.01, x => Usual with { RangeWidth = new RangeWidth { Points = 1, SingleFigureShare = x } } },
        { "RangeDistance/Points", 0, 1000, 0.1, x => Usual with { RangeDistance = new RangeDistance { Points = (decimal)x } } },
        { "RangeDistance/FullCelsius", 0, 20, 0.1, x => Usual with { RangeDistance = new RangeDistance { Points = 1, FullCelsius = x, ZeroCelsius = 40 } } },
        { "RangeDistance/ZeroCelsius", 2.01, 50, 0.01, x => Usual with { RangeDistance = new RangeDistance { Points = 1, ZeroCelsius = x } } },
        { "Recrystallisation/Points", 0, 1000, 0.1, x => Usual with { Recrystallisation = new Recrystallisation { Points = (decimal)x } } },
        { "Recrystallisation/SharpSpanCelsius", 0, 20, 0.1, x => Usual with { Recrystallisation = new Recrystallisation { Points = 1, SharpSpanCelsius = x } } },
        { "Recrystallisation/AllowedDropCelsius", 0, 10, 0.1, x => Usual with { Recrystallisation = new Recrystallisation { Points = 1, AllowedDropCelsius = x } } },
        { "Recrystallisation/OneShare", 0, 1, 0.01, x => Usual with { Recrystallisation = new Recrystallisation { Points = 1, OneShare = x } } },
        { "TestsFitClaim/Points", 0, 1000, 0.1, x => Usual with { TestsFitClaim = new TestsFitClaim { Points = (decimal)x } } },
        { "TestsFitCompound/DoubtfulShare", 0, 1, 0.01, x => Usual with { TestsFitCompound = new TestsFitCompound { Points = 1, DoubtfulShare = x } } },
        { "Attempts/FreeAttempts", 1, 100, 1, x => Deducting(a => a with { FreeAttempts = (int)x }) },
        { "Attempts/PointsPerAttempt", 0, 1000, 0.1, x => Deducting(a => a with { PointsPerAttempt = (decimal)x }) },
        { "Attempts/MostPoints", 0, 1000, 0.1, x => Deducting(a => a with { MostPoints = (decimal)x }) },
        { "Lateness/GraceHours", 0, 240, 0.1, x => Late(l => l with { GraceHours = x }) },
        { "Lateness/PointsPerDay", 0, 1000, 0.1, x => Late(l => l with { PointsPerDay = (decimal)x }) },
        { "Lateness/MostPoints", 0, 1000, 0.1, x => Late(l => l with { MostPoints = (decimal)x }) },
    };

    private static Rubric Usual => Rubric.Usual;

    [Theory]
    [MemberData(nameof(Figures))]
    public void FigureIsAllowedFromItsLeastToItsMost(
        string figure, double least, double most, double beyond, Func<double, Rubric> with)
    {
        Assert.Empty(with(least).Faults());
        Assert.Empty(with(most).Faults());
        Assert.All(new[] { least - beyond, most + beyond }, value =>
        {
            var fault = Assert.Single(with(value).Faults());
            Assert.Equal(figure, $"{fault.Criterion}/{fault.Field}");
            Assert.Contains("must lie from", fault.Sentence, StringComparison.Ordinal);
        });
    }

    [Fact]
    public void NameHasOneToAHundredCharacters()
    {
        Assert.Empty((Usual with { Name = new string('x', 100) }).Faults());
        Assert.Equal("Name", Assert.Single((Usual with { Name = new string('x', 101) }).Faults()).Field);
        Assert.Equal("Name", Assert.Single((Usual with { Name = "" }).Faults()).Field);
    }

    [Fact]
    public void DeductionsAloneAreNoRubric()
    {
        var deductions = new Rubric
        {
            Name = "Deductions",
            Attempts = new AttemptsDeduction { PointsPerAttempt = 1, MostPoints = 2 },
        };

        Assert.Equal("Criteria", Assert.Single(deductions.Faults()).Field);
        Assert.Empty((deductions with { TestsFitClaim = new TestsFitClaim { Points = 1 } }).Faults());
    }

    [Fact]
    public void CriteriaComeInTheirOwnOrder() =>
        Assert.Equal(Enum.GetNames<CriterionKind>(), (Usual with { WrittenReasoning = new WrittenReasoning { Points = 1 } }).Criteria().Select(criterion =>
            criterion.GetType().Name.Replace("Deduction", "", StringComparison.Ordinal)));

    [Fact]
    public void CausesOfADifferenceAreTheRubricTheTableAndTheModel()
    {
        Grade Of(string rubric, int table, string model) =>
            new() { RubricName = rubric, TableVersion = table, ModelVersion = model, Lines = [] };

        Assert.Equal(
            ["The table version was 1 and is now 2.", "The model version was 3 and is now 4."],
            GradeComparison.Between(Of("a", 1, "3"), Of("a", 2, "4")).Causes);
        Assert.Empty(GradeComparison.Between(Of("a", 1, "3"), Of("a", 1, "3")).Causes);
    }

    private static Rubric Claim(Func<SupportedClaim, SupportedClaim> with) =>
        Usual with { SupportedClaim = with(new SupportedClaim { Points = 1 }) };

    private static Rubric Deducting(Func<AttemptsDeduction, AttemptsDeduction> with) =>
        Usual with { Attempts = with(new AttemptsDeduction { PointsPerAttempt = 1, MostPoints = 2 }) };

    private static Rubric Late(Func<LatenessDeduction, LatenessDeduction> with) =>
        Usual with { Lateness = with(new LatenessDeduction { PointsPerDay = 1, MostPoints = 2 }) };
}
