using System.Text.Json;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Operating;
using Derivid.Api.Practice;
using Derivid.Api.Table;
using Derivid.Api.Teaching;
using Derivid.Contracts;
using Derivid.Core.Ranking;

namespace Derivid.Api.Identifications;

/// <summary>Ranking without reasons, for scripts that only count.</summary>
public static class RankingEndpoints
{
    /// <summary>Maps it.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapRankings(this RouteGroupBuilder api) =>
        api.MapPost("/rankings", RankAsync)
            .WithTags("Identifications")
            .WithName("rank")
            .WithSummary("Rank without reasons")
            .WithDescription(
                "The places and probabilities of an identification of the same observation, and nothing else: a tenth of the bytes and a "
                + "fraction of the work, for scripts that only count. What speaks for and against a candidate, corrected readings, warnings, "
                + "what to do next and the cautions for it are in an identification. Nothing is stored. At most 64 KB.")
            .WithBody<IdentificationRequest>()
            .Produces<RankingReply>()
            .ProducesProblems(
                ProblemTypes.ExaminationOpen,
                ProblemTypes.ContradictoryReadings,
                ProblemTypes.MeltingRangeReversed,
                ProblemTypes.ThermometerImplausible);

    private static async Task<IResult> RankAsync(
        HttpContext context, TableSnapshots tables, RegisteredThermometers thermometers, SenderTurns turns, Examinations examinations, ServiceMeter meter)
    {
        if (!(await JsonBody.ReadAsync<IdentificationRequest>(context.Request)).Succeeded(out var request, out var problem)
            || (problem = await examinations.OfAsync(context)) is not null
            || !(await tables.FindAsync(request.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem)
            || !(await thermometers.IntoAsync(request, table, "", context.RequestAborted)).Succeeded(out request, out problem))
        {
            return problem;
        }

        Ranking ranking;
        using (await turns.TakeAsync(context))
        {
            var errors = new FieldErrors();
            var canonical = new CanonicalRequestReader(table, "", errors).Read(request);
            if (errors.ToProblem() is { } refused)
            {
                meter.Identified(IdentificationWay.Alone, null, isStored: false);
                return refused with { TableVersion = table.Table.Version };
            }

            ranking = table.Engine.Rank(canonical.Observation, canonical.Form.MaximumCandidates!.Value);
        }

        meter.Identified(IdentificationWay.Alone, IdentificationOutcomes.Of(ranking), isStored: false);
        return Reply.Bytes(JsonSerializer.SerializeToUtf8Bytes(ReplyOf(ranking), WireJson.Context.RankingReply), MediaTypes.Json);
    }

    private static RankingReply ReplyOf(Ranking ranking) => new()
    {
        TableVersion = ranking.TableVersion,
        ModelVersion = ranking.ModelVersion,
        Candidates = [.. ranking.Candidates.Select(candidate => new RankedParent(candidate.Parent.Key, candidate.Parent.Name, candidate.Posterior))],
        CandidatesConsidered = ranking.CandidatesConsidered,
        NoneOfThese = new NoneRanked(ranking.NonePosterior, ranking.NoneLeads),
        Groups = [.. ranking.Groups.Select(group => new GroupRanked([.. group.Parents.Select(parent => parent.Key)], group.Posterior))],
    };
}
