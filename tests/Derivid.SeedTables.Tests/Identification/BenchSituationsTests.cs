namespace Derivid.SeedTables.Tests.Identification;

/// <summary>
/// What a chemist at the bench expects, row by row of tests/reference-values/bench-situations.csv, against the served table
/// and the shipped settings. The source of each expectation stands in its row.
/// </summary>
public sealed class BenchSituationsTests
{
    private const string Refused = "refused ";

    public static TheoryData<string> With(string column) =>
        [.. BenchSituation.All.Values.Where(row => row.Statements(column).Count > 0).Select(row => row.Name)];

    [Theory]
    [MemberData(nameof(With), "order")]
    public void CandidatesStandInTheOrderExpected(string situation) => Check(situation, "order");

    [Theory]
    [MemberData(nameof(With), "probabilities")]
    public void ProbabilitiesAreWithinTheBoundsExpected(string situation) => Check(situation, "probabilities");

    [Theory]
    [MemberData(nameof(With), "sentence")]
    public void SentencesSayWhatIsExpected(string situation) => Check(situation, "sentence");

    [Theory]
    [MemberData(nameof(With), "warning")]
    public void WarningsAreThoseExpected(string situation) => Check(situation, "warning");

    [Theory]
    [MemberData(nameof(With), "advice")]
    public void AdviceIsWhatIsExpected(string situation) => Check(situation, "advice");

    [Fact]
    public void EverySituationExpectsSomethingAndSaysWhyAndWhence()
    {
        Assert.True(BenchSituation.All.Count >= 60, $"{BenchSituation.All.Count} situations.");
        Assert.All(BenchSituation.All.Values, row =>
        {
            Assert.Contains(BenchSituation.Expectations, column => row.Statements(column).Count > 0);
            Assert.NotEmpty(row.Why);
            Assert.NotEmpty(row.Source);
            Assert.All(
                row.Statements("source").Where(source => source.All(c => c is '-' or (>= 'a' and <= 'z') or (>= '0' and <= '9'))),
                key => Assert.Contains(key, TableFixture.Sources.Keys));
        });
    }

    private static void Check(string name, string column)
    {
        var row = BenchSituation.All[name];
        BenchAnswer answer;
        try
        {
            answer = BenchAnswer.To(row);
        }
        catch (Exception refusal) when (refusal is ArgumentException or NotSupportedException)
        {
            var expected = row.Statements(column).SingleOrDefault(statement => statement.StartsWith(Refused, StringComparison.Ordinal));
            Assert.True(
                expected is not null && refusal.Message.Contains(expected[Refused.Length..], StringComparison.Ordinal),
                $"{name}, {column}: refused ({refusal.Message}){NeedsOf(row)}");
            return;
        }

        var misses = row.Statements(column)
            .Select(statement => (Statement: statement, Came: answer.Miss(column, statement)))
            .Where(miss => miss.Came is not null)
            .Select(miss => $"expected {miss.Statement}; came {miss.Came}")
            .ToList();
        Assert.True(misses.Count == 0, $"{name}, {column}: {string.Join("\n", misses)}{NeedsOf(row)}");
    }

    private static string NeedsOf(BenchSituation row) => row.Needs == "" ? "" : $" [needs {row.Needs}]";
}
