using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Testing;
using Npgsql;

namespace Derivid.Benchmarks.Tables;

/// <summary>The best that PostgreSQL makes of the evidence of <see cref="ScalarLoop"/>: candidates by window, scored in SQL.</summary>
/// <remarks>
/// One row a value of the kind that was melted, with all that the loop counts of its parent beside it, in the order of its
/// temperature. A GiST index over the listed ranges holds all the columns, so no row is fetched; one prepared
/// statement, its plan kept and never one over the whole table. Only values within the customary window are candidates at
/// all: what lies outside, what has none listed, and a share of all of them it does not tell.
/// </remarks>
internal sealed class PostgreSqlRanking : IAsyncDisposable
{
    private const string Ranked =
        """
        SELECT parent, sum(share * (exp(-0.5 * (clear - $1) * (clear - $1) / ($2 * $2)) * (1 - $3) / ($2 * sqrt(2 * pi())) + $3 / $4)) * max(factor) AS weight
        FROM listed WHERE span && celsius($1 - $5, $1 + $5, '[]') GROUP BY parent ORDER BY weight DESC LIMIT 10
        """;

    private readonly PostgreSqlServer _server = new();
    private readonly List<IAsyncDisposable> _opened = [];
    private NpgsqlCommand _command = null!;

    private PostgreSqlRanking()
    {
    }

    /// <summary>Fills a database with the values of one kind.</summary>
    /// <param name="snapshot">The table.</param>
    /// <param name="loop">What is counted of a parent beside its melting points.</param>
    /// <param name="kindKey">The derivative kind.</param>
    /// <param name="of">An observation that is like all others but for its range.</param>
    public static async Task<PostgreSqlRanking> FilledAsync(TableSnapshot snapshot, ScalarLoop loop, string kindKey, Observation of)
    {
        var ranking = new PostgreSqlRanking();
        var database = await ranking._server.NewDatabaseAsync();
        ranking._opened.Add(database);
        var connection = new NpgsqlConnection(database.ConnectionString);
        await connection.OpenAsync();
        ranking._opened.Add(connection);
        await ExecuteAsync(
            """
            CREATE TYPE celsius AS RANGE (subtype = float8, subtype_diff = float8mi);
            CREATE TABLE listed (
                parent int NOT NULL, low float8 NOT NULL, clear float8 NOT NULL, share float8 NOT NULL, factor float8 NOT NULL,
                span celsius NOT NULL GENERATED ALWAYS AS (celsius(low, clear, '[]')) STORED);
            """);
        var values =
            from parent in Enumerable.Range(0, snapshot.Parents.Count)
            let listed = snapshot.Kind(kindKey).Listed.Of(parent)
            let factor = loop.FactorOf(parent, of.Derivatives[0].ColourKey!, of.SpotTests[0].TestKey, of.SpotTests[1].TestKey)
            from value in listed
            orderby value.HighCelsius
            select (Parent: parent, Value: value, Share: 1.0 / listed.Count, Factor: factor);
        await using (var copy = await connection.BeginBinaryImportAsync("COPY listed (parent, low, clear, share, factor) FROM STDIN (FORMAT BINARY)"))
        {
            foreach (var row in values)
            {
                await copy.StartRowAsync();
                await copy.WriteAsync(row.Parent);
                await copy.WriteAsync(row.Value.LowCelsius);
                await copy.WriteAsync(row.Value.HighCelsius);
                await copy.WriteAsync(row.Share);
                await copy.WriteAsync(row.Factor);
            }

            await copy.CompleteAsync();
        }

        await ExecuteAsync("CREATE INDEX ON listed USING gist (span) INCLUDE (parent, clear, share, factor)");
        await ExecuteAsync("VACUUM (ANALYZE, FREEZE) listed");
        await ExecuteAsync("SET jit = off; SET enable_seqscan = off; SET plan_cache_mode = force_generic_plan");
        ranking._command = new NpgsqlCommand(Ranked, connection);
        ranking._opened.Add(ranking._command);
        double[] constants = [0, ScalarLoop.SigmaCelsius, ScalarLoop.GrossShare, ScalarLoop.SpanCelsius, Observation.DefaultWindowCelsius];
        foreach (var constant in constants)
        {
            ranking._command.Parameters.Add(new NpgsqlParameter<double> { TypedValue = constant });
        }

        await ranking._command.PrepareAsync();
        return ranking;

        async Task ExecuteAsync(string sql)
        {
            await using var command = new NpgsqlCommand(sql, connection);
            await command.ExecuteNonQueryAsync();
        }
    }

    /// <summary>Ranks the candidates within the window.</summary>
    /// <param name="observation">As the one that it was filled for, but for its range.</param>
    public List<(int Parent, double Weight)> Rank(Observation observation)
    {
        ((NpgsqlParameter<double>)_command.Parameters[0]).TypedValue = observation.Derivatives[0].Range!.Value.ClearPointCelsius;
        var best = new List<(int Parent, double Weight)>();
        using var reader = _command.ExecuteReader();
        while (reader.Read())
        {
            best.Add((reader.GetInt32(0), reader.GetDouble(1)));
        }

        return best;
    }

    /// <inheritdoc />
    public async ValueTask DisposeAsync()
    {
        foreach (var opened in Enumerable.Reverse(_opened))
        {
            await opened.DisposeAsync();
        }

        await _server.DisposeAsync();
    }
}
