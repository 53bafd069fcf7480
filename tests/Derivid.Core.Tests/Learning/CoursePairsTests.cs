using Derivid.Core.Learning;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Learning;

public sealed class CoursePairsTests
{
    [Fact]
    public void WhatOneCourseAloneSawIsLeftOut()
    {
        var pairs = CoursePairs.Of([Course(Tollens("propanone"), Tollens("benzaldehyde")), Course(Tollens("propanone"))]);

        Assert.All(pairs, course => Assert.Equal("propanone", Assert.Single(course.Compounds).ParentKey));
    }

    [Fact]
    public void FiguresAreTakenByThemselves()
    {
        // Two courses ran Tollens' test on it, one of them saw a colour.
        var pairs = CoursePairs.Of([Course(Tollens("propanone") with { Colours = [new ColourTally(TestTable.Dnph, [5])] }), Course(Tollens("propanone"))]);

        Assert.All(pairs, course => Assert.Empty(Assert.Single(course.Compounds).Colours));
        Assert.All(pairs, course => Assert.Single(Assert.Single(course.Compounds).SpotTests));
    }

    [Fact]
    public void TwoAnswersNeverDifferByOneCourse()
    {
        // Whatever courses there are, and whichever of them comes or goes: every subset of six courses against every other. A course is told by its count.
        var courses = Enumerable.Range(0, 6).Select(place => Course(
            [Tollens("propanone", 1 << place), .. place % 3 == 0 ? [] : new[] { Tollens("benzaldehyde", 1 << place) }])).ToList();
        var answers = Enumerable.Range(0, 64).Select(set => CoursePairs.Of([.. courses.Where((_, place) => (set & (1 << place)) != 0)])).ToList();
        foreach (var key in new[] { "propanone", "benzaldehyde" })
        {
            var taken = answers.ConvertAll(answer => answer.SelectMany(course => course.Compounds).Where(compound => compound.ParentKey == key).Sum(compound => compound.SpotTests[0].Positive));

            Assert.All(taken, one => Assert.All(taken, other => Assert.True(int.PopCount(one ^ other) != 1, $"{key}: {one:b} and {other:b}")));
            Assert.Contains(taken, one => one != 0);
        }
    }

    private static CompoundTally Tollens(string key, int positive = 5) => new(key, [new SpotTestTally("tollens", positive, 0)], [], [], []);

    private static CourseTally Course(params CompoundTally[] compounds) => new(compounds, CourseVerdict.Counts);
}
