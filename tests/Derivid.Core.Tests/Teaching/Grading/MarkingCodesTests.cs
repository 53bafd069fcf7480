using System.Text;
using Derivid.Core.Teaching.Grading;
using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Core.Tests.Teaching.Grading;

public sealed class MarkingCodesTests
{
    private const string Id = "019ad2b4c8f071238abcdef012345678";

    private static readonly MarkingCodes Codes = new(Secret("of a course"));

    [Theory]
    [InlineData(0)]
    [InlineData(31)]
    [InlineData(33)]
    public void SecretOfAnotherLengthIsRefused(int length) =>
        Assert.Contains("32 bytes", Assert.Throws<ArgumentException>(() => new MarkingCodes(new byte[length])).Message, StringComparison.Ordinal);

    [Fact]
    public void SecretIsNeverShown() => Assert.Equal("(secret)", Codes.ToString());

    [Fact]
    public void CodeIsTheStudentsWheneverItIsAskedForAndTellsNoUnknown()
    {
        var code = Codes.OfStudent("s1042");

        Assert.Matches($"^M-[{UnknownCode.Alphabet}]{{5}}-[{UnknownCode.Alphabet}]{{5}}$", code);
        Assert.Equal(code, new MarkingCodes(Secret("of a course")).OfStudent("s1042"));
        Assert.False(UnknownCode.TryParse(code, out _, out _));
    }

    [Fact]
    public void CodesDifferFromStudentToStudentAndFromCourseToCourse()
    {
        var students = Enumerable.Range(0, 2000).Select(number => $"s{number}").Append("S1").ToList();
        var others = new MarkingCodes(Secret("of another"));

        Assert.Equal(students.Count, students.Select(Codes.OfStudent).Distinct().Count());
        Assert.Empty(students.Select(Codes.OfStudent).Intersect(students.Select(others.OfStudent)));
    }

    [Fact]
    public void ReportIsFoundByWhatItIsCalledAndByNothingElse()
    {
        var called = Codes.OfReport(Id);

        Assert.Matches("^[0-9a-f]{32}$", called);
        Assert.NotEqual(Id, called);
        Assert.Equal(Id, Codes.ReportCalled(called));
        Assert.NotEqual(Id, Codes.ReportCalled(Id));
        Assert.NotEqual(Id, new MarkingCodes(Secret("of another")).ReportCalled(called));
    }

    // Ids of reports begun one after the other are in order; what they are called is in none.
    [Fact]
    public void WhatReportsAreCalledTellsNothingOfTheirOrder()
    {
        var called = Enumerable.Range(0, 500).Select(number => Codes.OfReport($"{0x019ad2b4c8f0 + number:x12}71238abcdef012345678")).ToList();
        var rising = called.Zip(called.Skip(1)).Count(pair => string.CompareOrdinal(pair.First, pair.Second) < 0);

        // Of 499 independent throws of a coin 250 ± 45 (four standard deviations).
        Assert.InRange(rising, 205, 295);
    }

    [Theory]
    [InlineData("")]
    [InlineData("019ad2b4c8f071238abcdef01234567")]
    [InlineData("019ad2b4c8f071238abcdef0123456789")]
    public void WhatIsNoIdIsRefused(string id)
    {
        Assert.Throws<ArgumentException>(() => Codes.OfReport(id));
        Assert.Throws<ArgumentException>(() => Codes.ReportCalled(id));
    }

    private static byte[] Secret(string text) => Encoding.UTF8.GetBytes(text.PadRight(MarkingCodes.SecretLength, '.'));
}
