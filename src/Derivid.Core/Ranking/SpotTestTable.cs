using Derivid.Core.Compounds;
using Derivid.Core.Ranking.Forecasts;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Ranking;

/// <summary>How each parent answers each spot test.</summary>
public sealed class SpotTestTable
{
    /// <summary>Rates of positives above this are expected positive, below its complement negative. Chosen.</summary>
    private const double ClearRate = 0.65;

    private readonly Dictionary<string, TestRow> _tests;

    private SpotTestTable(Dictionary<string, TestRow> tests)
    {
        _tests = tests;
        Tests = [.. tests.Values.Select(row => row.Test).OrderBy(test => test.Key, StringComparer.Ordinal)];
    }

    /// <summary>The tests, in order of their keys.</summary>
    public IReadOnlyList<SpotTest> Tests { get; }

    /// <summary>The outcome to expect of a compound, doubtful where it may go either way.</summary>
    /// <param name="testKey">The test.</param>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    /// <exception cref="ArgumentException">The table has no such test.</exception>
    public SpotTestOutcome Expected(string testKey, int parent) => ExpectedAt(Row(testKey).Positive[parent]);

    /// <summary>The outcome to expect at a rate of positives, doubtful where it may go either way.</summary>
    internal static SpotTestOutcome ExpectedAt(double positiveRate) =>
        positiveRate switch
        {
            > ClearRate => SpotTestOutcome.Positive,
            < 1 - ClearRate => SpotTestOutcome.Negative,
            _ => SpotTestOutcome.Doubtful,
        };

    /// <summary>The rates of one test.</summary>
    /// <param name="testKey">The test.</param>
    /// <exception cref="ArgumentException">The table has no such test.</exception>
    internal TestRow Row(string testKey) =>
        _tests.TryGetValue(testKey, out var row)
            ? row
            : throw new ArgumentException($"The table has no spot test '{testKey}'.", nameof(testKey));

    internal static SpotTestTable Build(ReferenceTable table, TableSnapshot snapshot)
    {
        var questions = table.Questions.ToDictionary(question => question.Key, StringComparer.Ordinal);
        var expected = new ExpectedOutcomes(table);
        var outcomes = new List<IReadOnlyList<ExpectedOutcome>>(snapshot.Classes.Count);
        foreach (var parent in snapshot.Classes.Examples)
        {
            outcomes.Add(expected.Of(snapshot.Parents[parent].Key, snapshot.Features[parent]));
        }

        return new SpotTestTable(table.SpotTests.Index().ToDictionary(
            test => test.Item.Key,
            test => new TestRow(
                test.Item, questions[test.Item.QuestionKey], [.. outcomes.Select(outcome => outcome[test.Index])], snapshot.Classes),
            StringComparer.Ordinal));
    }

    /// <summary>One test's rates by parent.</summary>
    /// <param name="test">The test.</param>
    /// <param name="question">The question it asks.</param>
    /// <param name="outcomes">How the parents are expected to answer it. Shape: one a class.</param>
    /// <param name="classes">The classes.</param>
    internal sealed class TestRow(SpotTest test, SpotTestQuestion question, IReadOnlyList<ExpectedOutcome> outcomes, ParentClasses classes)
    {
        /// <summary>The test.</summary>
        public SpotTest Test { get; } = test;

        /// <summary>The question it asks.</summary>
        public SpotTestQuestion Question { get; } = question;

        /// <summary>Rate of positives if the sample answers as its structure says. Shape: kept by class.</summary>
        public ParentValues Positive { get; } = ParentValues.OfClasses([.. outcomes.Select(outcome => outcome.PositiveRate)], classes);

        /// <summary>Rate of positives if it answers against it. Shape: kept by class.</summary>
        public ParentValues Contrary { get; } = ParentValues.OfClasses([.. outcomes.Select(outcome => outcome.PositiveRateIfContrary)], classes);

        /// <summary>What is foreseen while no test of the question has been read.</summary>
        public SpotTestForecast Unread { get; } = new(ParentValues.OfClasses(
            [.. outcomes.Select(outcome => Mixed(outcome.PositiveRate, outcome.PositiveRateIfContrary, 1 - question.ContraryRate))], classes));

        /// <summary>How a parent is expected to answer it.</summary>
        /// <param name="parent">Index of the parent.</param>
        public ExpectedOutcome OutcomeOf(int parent) => outcomes[classes.Of[parent]];

        /// <summary>Probability of a positive while no test of the question has been read.</summary>
        /// <param name="parent">Index of the parent.</param>
        public double Foreseen(int parent) => Mixed(Positive[parent], Contrary[parent], 1 - Question.ContraryRate);

        /// <summary>Probability of a positive, by parent.</summary>
        /// <param name="straight">Probability that the sample answers as its structure says. Shape: kept by class.</param>
        public ParentValues Foreseen(ParentValues straight) =>
            ParentValues.OfClasses(classes, (i, _) => Mixed(Positive.Values[i], Contrary.Values[i], straight.Values[i]));

        private static double Mixed(double positive, double contrary, double straight) =>
            (straight * positive) + ((1 - straight) * contrary);
    }
}
