using Derivid.Core.Compounds;
using Derivid.Core.Learning;
using Derivid.Core.SpotTests;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Learning;

public sealed class AssumedTableTests
{
    private static readonly ReferenceTable Five = TestTable.Five().Table.Ordered();

    private static readonly string Classes = LearnedTable.Source.Key;

    [Fact]
    public void TableThatNobodyTaughtIsItself() => Assert.Same(Five, AssumedTable.Of(Five, Five.Responses, Five.ColourExpectations));

    [Fact]
    public void WhatClassesTaughtIsTakenOut()
    {
        var rows = Five.Responses.Where(row => row.TestKey == "tollens").ToList();
        var taught = (Five with
        {
            Sources = [.. Five.Sources, LearnedTable.Source],
            Responses =
            [
                .. Five.Responses.Where(row => row.TestKey != "tollens"),
                rows[0] with { Order = 1, AppliesTo = "parent:pinacolone", SourceKey = Classes },
                .. rows.Select((row, place) => row with { Order = place + 2, PositiveRate = 0.5, SourceKey = Classes, IsAssumed = false }),
            ],
            ColourExpectations = [.. Five.ColourExpectations.Select(row => row with { SourceKey = Classes })],
            Derivatives = [.. Five.Derivatives, Five.Derivatives[0] with { Key = "of-classes", SourceKey = Classes }],
        }).Ordered();
        var assumed = AssumedTable.Of(taught, [.. taught.Responses, .. Five.Responses], [.. taught.ColourExpectations, .. Five.ColourExpectations]).Ordered();

        Assert.Equal(Five.Responses, assumed.Responses);
        Assert.Equal(Five.ColourExpectations, assumed.ColourExpectations);
        Assert.Equal(Five.Derivatives, assumed.Derivatives);
    }

    [Fact]
    public void WhatACuratorWroteSinceStays()
    {
        var written = Five.Responses.First(row => row.TestKey == "tollens") with { PositiveRate = 0.77 };
        var table = Five with
        {
            Sources = [.. Five.Sources, LearnedTable.Source],
            Responses = [.. Five.Responses.Select(row => Same(row, written) ? written : row)],
        };

        Assert.Contains(written, AssumedTable.Of(table, [.. table.Responses, .. Five.Responses], Five.ColourExpectations).Responses);
    }

    private static bool Same(SpotTestResponse one, SpotTestResponse other) => (one.TestKey, one.Order) == (other.TestKey, other.Order);
}
