using Derivid.Api.Table;
using Derivid.Contracts;

namespace Derivid.Api.Http;

/// <summary>Whether the service runs and whether it can answer.</summary>
public static class HealthEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="app">The application.</param>
    public static void MapHealth(this WebApplication app)
    {
        var health = app.MapGroup("/health").WithTags("Health").DisableRateLimiting();
        health.MapGet("/live", Live)
            .WithName("getLiveness")
            .WithSummary("Ask whether the service runs")
            .WithDescription("Answered as long as the process serves requests at all.")
            .Produces<HealthItem>()
            .ProducesProblems(ProblemTypes.MethodNotAllowed);
        health.MapGet("/ready", Ready)
            .WithName("getReadiness")
            .WithSummary("Ask whether the service can answer")
            .WithDescription(
                "Ready once a version of the table is in memory. A database that is away is reported and does not make "
                + "the service unready: identification and the table are still answered.")
            .Produces<HealthItem>()
            .ProducesProblems(ProblemTypes.MethodNotAllowed, ProblemTypes.NotReady);
    }

    private static IResult Live() => Reply.Json(new HealthItem("live", null, null, null));

    private static IResult Ready(TableSnapshots tables, TableWatch watch) => tables.Current is { } current
        ? Reply.Json(new HealthItem(
            "ready", current.Table.Version, current.ModelVersion, watch.IsDatabaseReachable ? "reachable" : "away"))
        : tables.NotReady;
}
