using Derivid.Core.Teaching.Grading;

namespace Derivid.Core.Tests.Teaching.Grading;

/// <summary>The rubric of the hand-worked gradings.</summary>
internal static class Rubrics
{
    public static Rubric Full { get; } = new()
    {
        Name = "Carbonyl unknown",
        PointStep = 0.5m,
        ExpectedDerivatives = 2,
        ExpectedTests = 2,
        RightCompound = new RightCompound { Points = 10 },
        RightClass = new RightClass { Points = 4 },
        SupportedClaim = new SupportedClaim { Points = 6 },
        RangeWidth = new RangeWidth { Points = 4 },
        RangeDistance = new RangeDistance { Points = 4 },
        Recrystallisation = new Recrystallisation { Points = 2 },
        TestsFitClaim = new TestsFitClaim { Points = 2 },
        TestsFitCompound = new TestsFitCompound { Points = 2 },
        Attempts = new AttemptsDeduction { PointsPerAttempt = 2, MostPoints = 5 },
        Lateness = new LatenessDeduction { GraceHours = 1, PointsPerDay = 3, MostPoints = 10 },
    };
}
