namespace Derivid.SeedTables.Tests.Identification;

/// <summary>
/// What a chemist at the bench expects, row by row of tests/reference-values/bench-situations.csv, against the served table
/// and the shipped settings. The source of each expectation stands in its row.
/// </summary>
public sealed class BenchSituationsTests
{
    private const string Refused = "refused ";

    public static TheoryData<string> Situations => [.. BenchSituation.All.Keys];

    /// <summary>
    /// A row that names what the engine has still to learn must fail, and lose the name in the change that teaches it; so the
    /// rows without one are all met, and the file never says less or more than the engine does.
    /// </summary>
    [Theory]
    [MemberData(nameof(Situations))]
    public void SituationIsMetUnlessItNamesWhatIsToBeLearnt(string situation)
    {
        var row = BenchSituation.All[situation];
        var misses = BenchSituation.Expectations.SelectMany(column => Misses(row, column)).ToList();
        if (row.Needs == "")
        {
            Assert.True(misses.Count == 0, $"{situation}: {string.Join("\n", misses)}");
        }
        else
        {
            Assert.True(misses.Count > 0, $"{situation} is met by now: empty its cell 'needs' ({row.Needs}).");
        }
    }

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

    private static IEnumerable<string> Misses(BenchSituation row, string column)
    {
        var statements = row.Statements(column);
        if (statements.Count == 0)
        {
            return [];
        }

        BenchAnswer answer;
        try
        {
            answer = BenchAnswer.To(row);
        }
        catch (Exception refusal) when (refusal is ArgumentException or NotSupportedException)
        {
            var expected = statements.SingleOrDefault(statement => statement.StartsWith(Refused, StringComparison.Ordinal));
            return expected is not null && refusal.Message.Contains(expected[Refused.Length..], StringComparison.Ordinal)
                ? []
                : [$"{column}: refused ({refusal.Message})"];
        }

        return statements
            .Select(statement => (Statement: statement, Came: answer.Miss(column, statement)))
            .Where(miss => miss.Came is not null)
            .Select(miss => $"{column}: expected {miss.Statement}; came {miss.Came}");
    }
}
