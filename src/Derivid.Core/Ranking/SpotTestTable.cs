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
        var responses = table.Responses.ToLookup(response => response.TestKey, StringComparer.Ordinal);
        return new SpotTestTable(table.SpotTests.ToDictionary(
            test => test.Key,
            test => TestRow.Build(test, questions[test.QuestionKey], [.. responses[test.Key]], snapshot),
            StringComparer.Ordinal));
    }

    /// <summary>One test's rates by parent.</summary>
    /// <param name="Test">The test.</param>
    /// <param name="Question">The question it asks.</param>
    /// <param name="Positive">Rate of positives if the sample answers as its structure says. Shape: one a parent.</param>
    /// <param name="Contrary">Rate of positives if it answers against it. Shape: one a parent.</param>
    /// <param name="Response">The row of the table that applies. Shape: one a parent; null where none does.</param>
    internal sealed record TestRow(
        SpotTest Test,
        SpotTestQuestion Question,
        double[] Positive,
        double[] Contrary,
        SpotTestResponse?[] Response)
    {
        /// <summary>What is foreseen while no test of the question has been read.</summary>
        public SpotTestForecast Unread { get; } = new(
            [.. Positive.Zip(Contrary, (positive, contrary) => Mixed(positive, contrary, 1 - Question.ContraryRate))]);

        /// <summary>Probability of a positive.</summary>
        /// <param name="parent">Index of the parent.</param>
        /// <param name="straight">Probability that the sample answers as its structure says.</param>
        public double Foreseen(int parent, double straight) => Mixed(Positive[parent], Contrary[parent], straight);

        public static TestRow Build(
            SpotTest test, SpotTestQuestion question, List<SpotTestResponse> responses, TableSnapshot snapshot)
        {
            var classes = responses
                .OrderBy(response => response.Order)
                .Select(response => (Response: response, Class: RespondingClass.Parse(response.AppliesTo)))
                .ToList();
            var count = snapshot.Parents.Count;
            var (positive, contrary, applying) = (new double[count], new double[count], new SpotTestResponse?[count]);
            for (var parent = 0; parent < count; parent++)
            {
                var (key, features) = (snapshot.Parents[parent].Key, snapshot.Features[parent]);
                var response = classes.FirstOrDefault(c => c.Class.Holds(key, features)).Response;
                applying[parent] = response;
                positive[parent] = response?.PositiveRate ?? test.PositiveRateIfNo;
                contrary[parent] = response?.AnswersYes == true ? test.PositiveRateIfNo : test.PositiveRateIfYes;
            }

            return new TestRow(test, question, positive, contrary, applying);
        }

        private static double Mixed(double positive, double contrary, double straight) =>
            (straight * positive) + ((1 - straight) * contrary);
    }
}
