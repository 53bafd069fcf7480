using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Ranking;

namespace Derivid.Page.Answers;

/// <summary>What an answer says first: what it is, and how sure that is.</summary>
public static class Headline
{
    // Chosen: where it is one in twenty at best, no compound is named as what it is.
    private const double Telling = 0.05;

    private const int MostNames = 4;

    /// <summary>The sentence.</summary>
    /// <param name="result">What the service answered.</param>
    public static string Of(IdentificationReply result)
    {
        ArgumentNullException.ThrowIfNull(result);
        var lead = Possibility.Leading(result, Possibility.Of(result));
        var (sure, share) = (Confidence.Of(lead.Posterior), Percent(lead.Posterior));
        return lead switch
        {
            { Candidates: [] } => $"It is {sure} none of the {result.CandidatesConsidered} compounds considered ({share}).",
            { Group: { } group } =>
                $"It is {sure} one of {group.ParentKeys.Count} that can’t be told apart yet ({share} together): {Names(result, group)}.",
            { Posterior: < Telling } => $"This tells little yet; likeliest is {lead.Candidates[0].Parent.Name} ({share}).",
            _ => $"It is {sure} {lead.Candidates[0].Parent.Name} ({share}).",
        };
    }

    // Broken anywhere but between a figure and its sign.
    private static string Percent(double probability) => Figure.Percent(probability).Replace(' ', '\u00A0');

    private static string Names(IdentificationReply result, CandidateGroup group)
    {
        string[] names =
        [
            .. group.ParentKeys.Take(MostNames)
                .Select(key => result.Candidates.FirstOrDefault(candidate => candidate.Parent.Key == key)?.Parent.Name ?? key),
        ];
        return group.ParentKeys.Count > MostNames
            ? $"{string.Join(", ", names)} and {group.ParentKeys.Count - MostNames} more"
            : $"{string.Join(", ", names[..^1])} or {names[^1]}";
    }
}
