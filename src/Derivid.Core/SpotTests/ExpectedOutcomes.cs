using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.SpotTests;

/// <summary>The table's rules on how classes of structures, and single parents, answer spot tests.</summary>
/// <remarks>Thread safety: immutable.</remarks>
public sealed class ExpectedOutcomes
{
    private readonly List<(SpotTest Test, List<(SpotTestResponse Row, RespondingClass Class)> Rows)> _tests;

    /// <summary>Takes the rules of a table.</summary>
    /// <param name="table">A table whose responses can be read.</param>
    public ExpectedOutcomes(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        var rows = table.Responses.ToLookup(row => row.TestKey, StringComparer.Ordinal);
        _tests = [.. table.SpotTests.Select(test => (test, rows[test.Key].OrderBy(row => row.Order).Select(row => (row, RespondingClass.Parse(row.AppliesTo))).ToList()))];
    }

    /// <summary>How one structure answers every test.</summary>
    /// <param name="parentKey">Key of the parent, for exceptions made for it alone. Missing: null, it has none.</param>
    /// <param name="features">Its features.</param>
    /// <returns>Shape: one a test, in the order of the table.</returns>
    public IReadOnlyList<ExpectedOutcome> Of(string? parentKey, StructureFeature features) =>
    [
        .. _tests.Select(test => new ExpectedOutcome(
            test.Test, test.Rows.FirstOrDefault(row => row.Class.Holds(parentKey, features)).Row)),
    ];
}

/// <summary>How a structure is expected to answer one spot test.</summary>
/// <param name="Test">The test.</param>
/// <param name="Response">The row of the table that says so. Missing: null, no row fits; the test's own rate for "no" stands.</param>
public sealed record ExpectedOutcome(SpotTest Test, SpotTestResponse? Response)
{
    /// <summary>Probability that a clean sample gives a positive.</summary>
    public double PositiveRate => Response?.PositiveRate ?? Test.PositiveRateIfNo;

    /// <summary>Probability of a positive from a sample that answers the question against its structure.</summary>
    public double PositiveRateIfContrary => Response?.AnswersYes == true ? Test.PositiveRateIfNo : Test.PositiveRateIfYes;

    /// <summary>Key of the source of that: the row's, or the test's own where no row fits.</summary>
    public string SourceKey => Response?.SourceKey ?? Test.SourceKey;
}
