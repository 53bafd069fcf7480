using Derivid.Core.Colours;

namespace Derivid.Core.Curation;

/// <summary>What holds for colour expectations.</summary>
internal static class ColourRules
{
    private const double LeastWeight = 0.02;
    private const double SumTolerance = 1e-9;

    public static void Check(ColourExpectation expectation, TableIndex index, RecordFindings findings)
    {
        findings.Require(expectation.Order >= 1, nameof(expectation.Order), expectation.Order, "1 or more");
        KindRules.CheckClass(expectation.StructureClass, nameof(expectation.StructureClass), findings);
        var weights = string.Join(';', expectation.Weights.Select(weight => FormattableString.Invariant($"{weight}")));
        var ranked = index.Table.Colours.Count(colour => colour.Rank is not null);
        findings.Require(
            expectation.Weights.Count == ranked, nameof(expectation.Weights), weights,
            FormattableString.Invariant($"one weight for each of the {ranked} colours that have a rank"));
        findings.Require(
            expectation.Weights.All(weight => weight is >= LeastWeight and <= 1)
            && Math.Abs(expectation.Weights.Sum() - 1) <= SumTolerance,
            nameof(expectation.Weights), weights, "weights of at least 0.02 that sum to 1");
    }
}
