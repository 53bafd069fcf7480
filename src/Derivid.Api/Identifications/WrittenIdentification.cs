using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Melting;
using Derivid.Core.Ranking;
using Derivid.Store.Identifications;

namespace Derivid.Api.Identifications;

/// <summary>An identification ready to be sent and stored.</summary>
/// <param name="Id">Its id.</param>
/// <param name="TableVersion">Version of the reference table used.</param>
/// <param name="ModelVersion">Version of the model used.</param>
/// <param name="Request">The request in canonical form, as UTF-8 JSON.</param>
/// <param name="Body">The answer as it is sent, as UTF-8 JSON.</param>
public sealed record WrittenIdentification(
    string Id, int TableVersion, string ModelVersion, byte[] Request, byte[] Body)
{
    /// <summary>What it comes to, for whoever counts.</summary>
    public IdentificationOutcome Outcome { get; init; }

    /// <summary>Answers a request.</summary>
    /// <param name="request">The request; its shape has been checked.</param>
    /// <param name="table">The version of the table to use.</param>
    /// <param name="place">Where the request stands in the body, a JSON Pointer.</param>
    public static Outcome<WrittenIdentification> Of(IdentificationRequest request, ServedTable table, string place)
    {
        ArgumentNullException.ThrowIfNull(table);
        var errors = new FieldErrors();
        var canonical = new CanonicalRequestReader(table, place, errors).Read(request);
        if (errors.ToProblem() is { } problem)
        {
            return problem with { TableVersion = table.Table.Version };
        }

        var written = JsonSerializer.SerializeToUtf8Bytes(canonical.Form, WireJson.Context.IdentificationRequest);
        var identification = table.Engine.Identify(canonical.Observation, canonical.Form.MaximumCandidates!.Value);
        var id = IdentificationId.Of(written, identification.ModelVersion);
        return new WrittenIdentification(
            id,
            identification.TableVersion,
            identification.ModelVersion,
            written,
            JsonSerializer.SerializeToUtf8Bytes(ReplyOf(id, identification), WireJson.Context.IdentificationReply))
        {
            Outcome = IdentificationOutcomes.Of(identification),
        };
    }

    /// <summary>The same as it is kept.</summary>
    /// <param name="createdAt">Now.</param>
    public StoredIdentification ToStored(DateTimeOffset createdAt) =>
        StoredIdentification.Of(Id, TableVersion, ModelVersion, Request, Body, createdAt.UtcDateTime);

    private static IdentificationReply ReplyOf(string id, Identification identification) => new()
    {
        Id = id,
        TableVersion = identification.TableVersion,
        ModelVersion = identification.ModelVersion,
        Summary = identification.Summary,
        Candidates = [.. identification.Candidates.Select(Candidate)],
        CandidatesConsidered = identification.CandidatesConsidered,
        NoneOfThese = identification.NoneOfThese,
        Groups = identification.Groups,
        NextSteps = identification.NextSteps,
        Readings = [.. identification.Readings.Select(r =>
            new ReadingItem(r.Kind, r.Subject, Range(r.AsRead), Range(r.AsUsed), r.ThermometerCelsius))],
        Warnings = identification.Warnings,
        Cautions = identification.Cautions,
    };

    private static CandidateItem Candidate(RankedCandidate candidate) => new()
    {
        Rank = candidate.Rank,
        Parent = new CandidateParent(
            candidate.Parent.Key,
            candidate.Parent.Name,
            candidate.Parent.CasNumber,
            candidate.Parent.Formula,
            candidate.Parent.Smiles),
        Prior = candidate.Prior,
        HowCommon = candidate.HowCommon,
        Posterior = candidate.Posterior,
        LogLikelihoodRatio = candidate.LogLikelihoodRatio,
        Evidence = candidate.Evidence,
        Windows = candidate.Windows,
        Remarks = candidate.Remarks,
    };

    private static RangeItem Range(MeltingRange range) =>
        new(range.OnsetCelsius, range.ClearPointCelsius, range.Decomposes);
}
