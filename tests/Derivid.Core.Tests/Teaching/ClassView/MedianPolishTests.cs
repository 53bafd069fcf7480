using Derivid.Core.Teaching.ClassView;

namespace Derivid.Core.Tests.Teaching.ClassView;

public sealed class MedianPolishTests
{
    [Fact]
    public void PublishedTableIsSplitAsByHand()
    {
        // Table: deaths from sport parachuting by experience and year, Velleman, P. F.; Hoaglin, D. C. Applications, Basics
        // and Computing of Exploratory Data Analysis, 1981, p. 224, as in the manual of R's medpolish.
        double[][] deaths = [[14, 15, 14], [7, 4, 7], [8, 2, 10], [15, 9, 10], [0, 2, 0]];

        var polish = new MedianPolish([.. deaths.SelectMany((row, i) => row.Select((value, j) => ($"{i}", $"{j}", value)))]);

        // Row medians 14, 7, 8, 10, 0: their median 8, parts 6, −1, 0, 2, −8. What is left by column: (0, 0, 0, 5, 0),
        // (1, −3, −6, −1, 2), (0, 0, 2, 0, 0), medians 0, −1, 0. Then every row and column has median 0.
        Assert.Equal(8, polish.Overall);
        Assert.Equal([6, -1, 0, 2, -8], polish.Rows.Values);
        Assert.Equal([0, -1, 0], polish.Columns.Values);
        Assert.Equal([0, 2, 0, 0, -2, 0, 0, -5, 2, 5, 0, 0, 0, 3, 0], polish.Residuals);
    }

    [Fact]
    public void PolishingStopsAfterTwentyRounds()
    {
        // Three cells in a chain. Of a row's two cells each takes half their difference, 2^39; the shared column then leaves its
        // two cells a half of that, and every round a quarter of the round before: 2^38 / 4^19 = 1 after twenty.
        var polish = new MedianPolish([("a", "x", Math.Pow(2, 40)), ("a", "y", 0), ("b", "y", 0)]);

        Assert.Equal([0, -1, 1], polish.Residuals);
    }

    [Fact]
    public void NothingIsSplitIntoNothing()
    {
        var polish = new MedianPolish([]);

        Assert.Equal(0, polish.Overall);
        Assert.Empty(polish.Rows);
        Assert.Empty(polish.Columns);
        Assert.Empty(polish.Residuals);
    }

    [Fact]
    public void PartsAndRestAddUpWhereCellsAreEmptyOrShared()
    {
        (string Row, string Column, double Value)[] cells =
            [("a", "x", 1), ("a", "x", 3), ("a", "y", 7), ("b", "y", 2), ("c", "x", 11), ("c", "z", 4)];

        var polish = new MedianPolish(cells);

        Assert.All(cells.Zip(polish.Residuals), pair => Assert.Equal(
            pair.First.Value,
            polish.Overall + polish.Rows[pair.First.Row] + polish.Columns[pair.First.Column] + pair.Second,
            1e-9));
    }
}
