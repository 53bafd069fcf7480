using Derivid.Contracts;
using Derivid.Core.Melting;
using Derivid.Core.Ranking;

namespace Derivid.Api.Identifications;

/// <summary>Puts an identification into its wire form.</summary>
public static class Answering
{
    /// <summary>Translates.</summary>
    /// <param name="id">The identification's id.</param>
    /// <param name="identification">What the engine found.</param>
    public static IdentificationResponse Of(string id, Identification identification)
    {
        ArgumentNullException.ThrowIfNull(identification);
        var none = identification.NoneOfThese;
        return new IdentificationResponse
        {
            Id = id,
            TableVersion = identification.TableVersion,
            ModelVersion = identification.ModelVersion,
            Summary = identification.Summary,
            Candidates = [.. identification.Candidates.Select(Candidate)],
            CandidatesConsidered = identification.CandidatesConsidered,
            NoneOfThese = new NoneOfTheseItem(none.Prior, none.Posterior, none.LogLikelihoodRatio, none.Sentence),
            Groups = [.. identification.Groups.Select(Group)],
            NextSteps = [.. identification.NextSteps.Select(Step)],
            Readings = [.. identification.Readings.Select(r =>
                new ReadingItem(r.Kind, r.Subject, Range(r.AsRead), Range(r.AsUsed)))],
            Warnings = identification.Warnings,
            Cautions = identification.Cautions,
        };
    }

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
        Posterior = candidate.Posterior,
        LogLikelihoodRatio = candidate.LogLikelihoodRatio,
        Evidence = [.. candidate.Evidence.Select(e =>
            new EvidenceItem(e.Kind, e.Subject, e.LogLikelihoodRatio, e.Sentence, e.SourceKeys))],
        Windows = [.. candidate.Windows.Select(Window)],
        Remarks = candidate.Remarks,
    };

    private static WindowItem Window(WindowCheck window) => new(
        window.Kind,
        window.Subject,
        window.ListedLowCelsius,
        window.ListedHighCelsius,
        window.SourceKey,
        window.DeviationCelsius,
        window.IsClearPointInside,
        window.IsWholeRangeInside);

    private static GroupItem Group(CandidateGroup group) => new(
        group.ParentKeys,
        group.Posterior,
        group.SeparatedBy is { } step ? Step(step) : null,
        group.Sentence);

    private static NextStepItem Step(NextStep step) => new(
        step.Kind, step.Key, step.Name, step.ExpectedInformation, step.Minutes, step.Hazard, step.Sentence, step.Cautions);

    private static RangeItem Range(MeltingRange range) =>
        new(range.OnsetCelsius, range.ClearPointCelsius, range.Decomposes);
}
