using Derivid.Core.Observations;

namespace Derivid.Core.Learning;

/// <summary>Takes every figure from an even number of courses, so that no two answers ever differ by one course's.</summary>
/// <remarks>
/// Whoever has two answers has their difference too: had one course come in between, that were its tally. Two sets of an even size, one not
/// the other, differ by two courses at least: |A| + |B| − 2·|A ∩ B| is even. It has to hold figure by figure, since courses hand out different
/// compounds; it needs no memory of what was told before, and holds for a course that was taken out as for one that came. What rests on one course alone is
/// told of none. Who has one of the two themself still knows the other's, which is a figure of five students at least.
/// </remarks>
public static class CoursePairs
{
    /// <summary>Leaves of every figure the first courses, as many as make pairs.</summary>
    /// <param name="courses">The tallies. Shape: in an order that hangs on nothing that was counted.</param>
    /// <returns>Shape: as many, in the same order; a course may have nothing left.</returns>
    public static IReadOnlyList<CourseTally> Of(IReadOnlyList<CourseTally> courses)
    {
        ArgumentNullException.ThrowIfNull(courses);
        var left = courses.SelectMany(course => course.Compounds).SelectMany(FiguresOf)
            .CountBy(figure => figure).ToDictionary(counted => counted.Key, counted => counted.Value / 2 * 2);
        return [.. courses.Select(course => course with { Compounds = [.. course.Compounds.Select(compound => Taken(compound, left)).Where(compound => FiguresOf(compound).Any())] })];
    }

    private static CompoundTally Taken(CompoundTally compound, Dictionary<Figure, int> left)
    {
        bool Take(Figure figure) => left[figure]-- > 0;
        return compound with
        {
            SpotTests = [.. compound.SpotTests.Where(tally => Take(Of(compound, tally)))],
            Colours = [.. compound.Colours.Where(tally => Take(Of(compound, tally)))],
            Meltings = [.. compound.Meltings.Where(tally => Take(Of(compound, tally)))],
            Precipitates = [.. compound.Precipitates.Where(tally => Take(Of(compound, tally)))],
        };
    }

    private static IEnumerable<Figure> FiguresOf(CompoundTally compound) =>
    [
        .. compound.SpotTests.Select(tally => Of(compound, tally)),
        .. compound.Colours.Select(tally => Of(compound, tally)),
        .. compound.Meltings.Select(tally => Of(compound, tally)),
        .. compound.Precipitates.Select(tally => Of(compound, tally)),
    ];

    private static Figure Of(CompoundTally compound, SpotTestTally tally) => new(Sort.SpotTest, compound.ParentKey, tally.TestKey);

    private static Figure Of(CompoundTally compound, ColourTally tally) => new(Sort.Colour, compound.ParentKey, tally.KindKey);

    private static Figure Of(CompoundTally compound, MeltingTally tally) =>
        new(Sort.Melting, compound.ParentKey, tally.KindKey, tally.Preparation, tally.IsCalibrated);

    private static Figure Of(CompoundTally compound, PrecipitateTally tally) => new(Sort.Precipitate, compound.ParentKey, tally.KindKey);

    private enum Sort
    {
        SpotTest,
        Colour,
        Melting,
        Precipitate,
    }

    private readonly record struct Figure(Sort Sort, string ParentKey, string Key, Preparation? Preparation = null, bool IsCalibrated = false);
}
