using Derivid.Core.Ranking;
using Derivid.Core.Teaching.Grading;
using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Core.Teaching.ClassView;

/// <summary>A class seen as a whole. For instructors only: it names compounds.</summary>
public sealed record ClassOverview
{
    /// <summary>Deviations by compound handed out. Shape: by key.</summary>
    public required IReadOnlyList<DeviationSummary> ByCompound { get; init; }

    /// <summary>Deviations by bench. Shape: by key; readings without a bench left out.</summary>
    public required IReadOnlyList<DeviationSummary> ByBench { get; init; }

    /// <summary>What to look into. Shape: may be empty.</summary>
    public required IReadOnlyList<Suggestion> Suggestions { get; init; }

    /// <summary>Compounds and criteria by difficulty and discrimination. Shape: empty before anything is graded.</summary>
    public required IReadOnlyList<ItemAnalysis> Items { get; init; }

    /// <summary>Things in reports that an instructor may want to look at, never a verdict. Shape: may be empty.</summary>
    public required IReadOnlyList<Signal> Signals { get; init; }

    /// <summary>Looks at a class.</summary>
    /// <param name="reports">Shape: any order, one a student and unknown.</param>
    /// <param name="snapshot">The table to compare with.</param>
    /// <exception cref="ArgumentException">A key is not in the table.</exception>
    public static ClassOverview Of(IReadOnlyList<ClassReport> reports, TableSnapshot snapshot)
    {
        var deviations = Deviation.Of(reports, snapshot);
        return new ClassOverview
        {
            ByCompound = DeviationSummary.By(deviations, deviation => deviation.ParentKey, StringComparer.Ordinal),
            ByBench = DeviationSummary.By(deviations, deviation => deviation.Bench, BenchOrder.Instance),
            Suggestions = ClassView.Suggestions.Of(deviations, snapshot),
            Items = ItemAnalysis.Of(reports),
            Signals = [.. CopiedRange.In(reports, snapshot), .. IdenticalReadings.In(reports)],
        };
    }
}

/// <summary>One report of a class, with who handed it in and what it was about.</summary>
/// <param name="StudentKey">The student, by whatever name signals are to call them.</param>
/// <param name="Bench">The bench. Missing: null, no fixed place.</param>
/// <param name="Unknown">What was handed out.</param>
/// <param name="Report">What was handed in.</param>
/// <param name="Grade">Its grade. Missing: null, not graded yet.</param>
public sealed record ClassReport(string StudentKey, string? Bench, Unknown Unknown, Report Report, Grade? Grade = null);
