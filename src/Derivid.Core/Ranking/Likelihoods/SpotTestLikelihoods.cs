using Derivid.Core.SpotTests;

namespace Derivid.Core.Ranking.Likelihoods;

/// <summary>The spot tests that ask one question, weighed together.</summary>
/// <remarks>
/// Given the compound, tests of one question are independent only once it is settled whether the sample answers as its
/// structure says. With contrary rate c the likelihood is (1 − c)·Π P(outcome) + c·Π P(outcome if contrary), so three
/// tests that ask the same thing never count as three.
/// </remarks>
internal sealed class SpotTestLikelihoods : ParentLikelihoods
{
    private readonly TableSnapshot _snapshot;
    private readonly (SpotTestTable.TestRow Row, bool IsPositive)[] _outcomes;

    private SpotTestLikelihoods(
        string questionKey,
        TableSnapshot snapshot,
        (SpotTestTable.TestRow Row, bool IsPositive)[] outcomes,
        ParentValues likelihood,
        ParentValues relative,
        ParentValues straightShare)
        : base(EvidenceKind.SpotTests, questionKey, likelihood, relative)
    {
        _snapshot = snapshot;
        _outcomes = outcomes;
        StraightShares = straightShare;
    }

    /// <summary>Weighs the clear outcomes of the tests of one question.</summary>
    /// <param name="questionKey">The question.</param>
    /// <param name="outcomes">The outcomes. Shape: at least one.</param>
    /// <param name="snapshot">The table.</param>
    /// <param name="relatives">
    /// What is believed of unlisted relatives, brought up to date, where only an aldehyde or ketone should answer. Missing:
    /// null, a relative answers as its parent.
    /// </param>
    public static SpotTestLikelihoods Weigh(
        string questionKey,
        (SpotTestTable.TestRow Row, bool IsPositive)[] outcomes,
        TableSnapshot snapshot,
        RelativesByReagent? relatives)
    {
        var contraryRate = outcomes[0].Row.Question.ContraryRate;
        var (likelihood, straightShare) = (new double[snapshot.Classes.Count], new double[snapshot.Classes.Count]);
        for (var i = 0; i < likelihood.Length; i++)
        {
            double straight = 1 - contraryRate, contrary = contraryRate;
            foreach (var (row, isPositive) in outcomes)
            {
                straight *= isPositive ? row.Positive.Values[i] : 1 - row.Positive.Values[i];
                contrary *= isPositive ? row.Contrary.Values[i] : 1 - row.Contrary.Values[i];
            }

            likelihood[i] = straight + contrary;
            straightShare[i] = straight / likelihood[i];
        }

        var own = ParentValues.OfClasses(likelihood, snapshot.Classes);
        return new SpotTestLikelihoods(
            questionKey,
            snapshot,
            outcomes,
            own,
            relatives?.TakeIn(own, OfNotCarbonyl(outcomes)) ?? own,
            ParentValues.OfClasses(straightShare, snapshot.Classes));
    }

    /// <summary>Probability, after these outcomes, that the sample answers as its structure says. Shape: kept by class.</summary>
    public ParentValues StraightShares { get; }

    /// <summary>Whether it hints at no aldehyde or ketone: negative with a reagent that every one of them should answer.</summary>
    public bool DoubtsCarbonyl =>
        _outcomes.Any(outcome => _snapshot.IsOfReagent(outcome.Row.Test.Key))
        && _outcomes.All(outcome => !outcome.IsPositive);

    /// <summary>
    /// Whether the tests of this question disagree: some positive and some negative, and not as a parent gives them. A test
    /// which may go either way with it takes no part.
    /// </summary>
    public bool IsContradictory(int parent)
    {
        var clear = _outcomes
            .Select(outcome => (outcome.IsPositive, Expected: SpotTestTable.ExpectedAt(outcome.Row.Positive[parent])))
            .Where(outcome => outcome.Expected != SpotTestOutcome.Doubtful)
            .ToList();
        return clear.Select(outcome => outcome.IsPositive).Distinct().Count() > 1
            && clear.Any(outcome => outcome.IsPositive != (outcome.Expected == SpotTestOutcome.Positive));
    }

    /// <summary>Names of the tests read, in order of their keys.</summary>
    public IEnumerable<SpotTest> Tests => _outcomes.Select(outcome => outcome.Row.Test);

    private static double OfNotCarbonyl(IReadOnlyList<(SpotTestTable.TestRow Row, bool IsPositive)> outcomes) =>
        outcomes.Aggregate(1.0, (product, outcome) =>
            product * (outcome.IsPositive ? outcome.Row.Test.PositiveRateIfNo : 1 - outcome.Row.Test.PositiveRateIfNo));

    protected override string Describe(int parent)
    {
        var name = _snapshot.Parents[parent].Name;
        return $"For {name}: {string.Join("; ", Array.ConvertAll(_outcomes, outcome => Told(outcome.Row, outcome.IsPositive, parent)))}.";
    }

    private static string Told(SpotTestTable.TestRow row, bool isPositive, int parent)
    {
        var expected = SpotTestTable.ExpectedAt(row.Positive[parent]);
        var asExpected = expected == SpotTestOutcome.Doubtful ? "which may go either way"
            : isPositive == (expected == SpotTestOutcome.Positive) ? "as expected"
            : "against expectation";
        return $"{row.Test.Name} {(isPositive ? "positive" : "negative")}, {asExpected}";
    }

    protected override IReadOnlyList<string> SourcesOf(int parent)
    {
        var sources = new List<string>(_outcomes.Length);
        foreach (var (row, _) in _outcomes)
        {
            var source = row.OutcomeOf(parent).SourceKey;
            if (!sources.Contains(source))
            {
                sources.Add(source);
            }
        }

        return sources;
    }
}
