using Derivid.Core.Teaching.Grading;

namespace Derivid.Core.Tests.Teaching.Grading;

public sealed class DeadlinesTests
{
    private static readonly DateTime Noon = new(2026, 10, 23, 12, 0, 0, DateTimeKind.Utc);

    // Due at 12:00 with 15 minutes of grace, ben at 14:00, cy at 11:00, which is not longer.
    [Theory]
    [InlineData("ann", "11:59:59", 0)]
    [InlineData("ann", "12:15:00", 0)]
    [InlineData("ann", "12:15:01", 1)]
    [InlineData("ann", "12:20:00", 5 * 60)]
    [InlineData("ben", "14:15:00", 0)]
    [InlineData("ben", "14:20:00", 5 * 60)]
    [InlineData("cy", "12:15:00", 0)]
    [InlineData("cy", "13:15:00", 60 * 60)]
    public void LatenessIsCountedFromTheEndOfTheGraceAfterTheStudentsOwnTime(string student, string at, int secondsLate)
    {
        var deadlines = new Deadlines(Noon, 15, new Dictionary<string, DateTime> { ["ben"] = Noon.AddHours(2), ["cy"] = Noon.AddHours(-1) });

        Assert.Equal(TimeSpan.FromSeconds(secondsLate), deadlines.LatenessOf(student, Noon.Date + TimeSpan.Parse(at, System.Globalization.CultureInfo.InvariantCulture)));
    }

    [Fact]
    public void NobodyIsLateWhereNothingIsDue()
    {
        Assert.Equal(TimeSpan.Zero, new Deadlines(null, 0, new Dictionary<string, DateTime> { ["ann"] = Noon }).LatenessOf("ann", Noon.AddYears(1)));
    }
}
