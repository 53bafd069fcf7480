using Derivid.Core.Observations;
using Derivid.Core.Teaching.ClassView;
using Derivid.Core.Teaching.Grading;

namespace Derivid.Core.Tests.Teaching.ClassView;

/// <summary>What the figures of a class's view are by their definitions.</summary>
public sealed class ClassArithmeticTests
{
    [Theory]
    [InlineData(0)]
    [InlineData(1000)] // Columns move by more than rows do.
    public void PolishingEndsWithNoMedianLeftInAnyRowOrColumn(double firstColumn)
    {
        // Chosen so that one round is not enough: 49 values without any pattern.
        var cells = Enumerable.Range(0, 49)
            .Select(i => (Row: $"{i / 7}", Column: $"{i % 7}", Value: (i * i * 37 % 101) + (i % 7 == 0 ? firstColumn : 0)))
            .ToList();

        var polish = new MedianPolish(cells);

        var left = cells.Zip(polish.Residuals, (cell, residual) => (cell.Row, cell.Column, residual)).ToList();
        Assert.All(left.GroupBy(cell => cell.Row), row => Assert.Equal(0, Median(row.Select(cell => cell.residual)), 1e-6));
        Assert.All(left.GroupBy(cell => cell.Column), column => Assert.Equal(0, Median(column.Select(cell => cell.residual)), 1e-6));
        Assert.Equal(0, Median(polish.Rows.Values), 1e-6);
        Assert.Equal(0, Median(polish.Columns.Values), 1e-6);
    }

    [Fact]
    public void RestOfAGradeIsASharePerReportWhateverItsMaximum()
    {
        // Shares of the rest 1, 0.75, 0.5, 0.25 as in the example of equal maxima, so the same 0.89443.
        var items = ItemAnalysis.Of(
        [
            Report("a", 4, (8, 8)), Report("b", 4, (3, 4)), Report("c", 1, (2, 4), (2, 4)), Report("d", 1, (1, 4)),
        ]);

        Assert.Equal(0.89443, items.Single(item => item.Key == nameof(CriterionKind.RangeWidth)).Discrimination!.Value, 1e-5);
    }

    private static double Median(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        return sorted[sorted.Length / 2];
    }

    private static ClassReport Report(string student, decimal width, params (decimal Points, decimal Maximum)[] rest) =>
        new(
            student,
            null,
            new Unknown("x", []),
            new Report { Observation = new Observation(), ClaimedParentKey = "x" },
            new Grade
            {
                RubricName = "r",
                TableVersion = 1,
                ModelVersion = "m",
                Lines =
                [
                    new GradeLine(CriterionKind.RangeWidth, width, 4, "", false),
                    .. rest.Select(line => new GradeLine(CriterionKind.RangeDistance, line.Points, line.Maximum, "", false)),
                ],
            });
}
