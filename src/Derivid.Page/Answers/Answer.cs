using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Compounds;
using Derivid.Core.Ranking;
using Derivid.Page.Observations;
using Derivid.Page.Table;

namespace Derivid.Page.Answers;

/// <summary>An identification with what the table holds of its leading candidates, to be shown as a notebook page.</summary>
/// <param name="Result">What the service answered.</param>
/// <param name="Observation">What it was asked.</param>
/// <param name="Words">Names of kinds, tests and colours.</param>
/// <param name="Parents">What the table holds of the leading candidates, by key.</param>
/// <param name="Sources">The sources, by key.</param>
public sealed record Answer(
    IdentificationReply Result,
    IdentificationRequest Observation,
    Vocabulary Words,
    IReadOnlyDictionary<string, ParentPart> Parents,
    IReadOnlyDictionary<string, Source> Sources)
{
    // As many as are drawn and compared; the rest are lines of a list.
    private const int Leading = 6;

    /// <summary>The leading candidates.</summary>
    public IEnumerable<CandidateItem> Leaders => Result.Candidates.Take(Leading);

    /// <summary>
    /// What it may be: single candidates, groups that can't be told apart, each as likely as its members together, and "none
    /// of these". Shape: likeliest first.
    /// </summary>
    public IReadOnlyList<Possibility> Possibilities { get; } = Possibility.Of(Result);

    /// <summary>The group that leads. Missing: null, a single candidate or "none of these" does.</summary>
    public CandidateGroup? LeadingGroup => Lead.Group;

    /// <summary>The candidate that leads, the first of a group that does, or, where nothing listed leads, the best of those listed.</summary>
    public CandidateItem Leader => Lead.Candidates is [var first, ..] ? first : Result.Candidates[0];

    /// <summary>Whether "none of these" is likelier than anything listed.</summary>
    public bool IsUnlisted => Result.NoneOfThese.Leads;

    /// <summary>Half width of the tolerance window. Units: °C.</summary>
    public double WindowCelsius => Observation.WindowCelsius ?? Core.Observations.Observation.DefaultWindowCelsius;

    /// <summary>The thing to do next. Missing: null, nothing in the table tells more.</summary>
    public NextStep? Next => Result.NextSteps.Count > 0 ? Result.NextSteps[0] : null;

    /// <summary>Fetches what is shown beside an identification.</summary>
    /// <param name="client">The service.</param>
    /// <param name="parts">What is kept of the table's versions.</param>
    /// <param name="result">The identification.</param>
    /// <param name="observation">What it was asked.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public static async Task<Answer> LoadAsync(
        DerividClient client, VersionParts parts, IdentificationReply result, IdentificationRequest observation, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(client);
        ArgumentNullException.ThrowIfNull(parts);
        ArgumentNullException.ThrowIfNull(result);
        var part = parts.GetAsync(client, result.TableVersion, cancellationToken);
        var leaders = result.Candidates.Take(Leading).Select(candidate => candidate.Parent.Key).ToList();
        var parents = await Task.WhenAll(leaders.Select(key => parts.GetParentAsync(client, result.TableVersion, key, cancellationToken)));
        return new Answer(
            result,
            observation,
            (await part).Words,
            parents.ToDictionary(parent => parent.Detail.Parent.Key),
            (await part).Sources);
    }

    /// <summary>What the table lists of a candidate for each reading.</summary>
    /// <param name="candidate">The candidate.</param>
    public IEnumerable<(ReadingItem Reading, ListedRange Range)> ValuesOf(CandidateItem candidate)
    {
        ArgumentNullException.ThrowIfNull(candidate);
        return Result.Readings.SelectMany(reading => Listed(candidate.Parent.Key, reading.Kind, reading.Subject).Select(range => (reading, range)));
    }

    /// <summary>What a reading was corrected to, in no more figures than the correction is worth.</summary>
    /// <param name="reading">The reading.</param>
    public static string Corrected(ReadingItem reading)
    {
        ArgumentNullException.ThrowIfNull(reading);

        // A boiling point taken far to another pressure is good to some degrees.
        var isFar = reading.Kind == EvidenceKind.BoilingPoint && Math.Abs(reading.AsUsed.ClearPointCelsius - reading.AsRead.ClearPointCelsius) > 5;
        return $"{Figure.Span(reading.AsUsed.OnsetCelsius, reading.AsUsed.ClearPointCelsius, decimals: isFar ? 0 : 1)} °C";
    }

    /// <summary>The ranges the table lists of a candidate for what was read, or would be.</summary>
    /// <param name="parentKey">The candidate.</param>
    /// <param name="kind">Derivative melting range, boiling point or melting point.</param>
    /// <param name="subject">The derivative kind. Missing: null.</param>
    /// <returns>Shape: lowest first; empty when it lists none, or the candidate isn't a leading one.</returns>
    public IReadOnlyList<ListedRange> Listed(string parentKey, EvidenceKind kind, string? subject)
    {
        if (!Parents.TryGetValue(parentKey, out var parent))
        {
            return [];
        }

        var detail = parent.Detail;

        var ranges = kind switch
        {
            EvidenceKind.DerivativeMeltingRange => detail.Derivatives.Where(row => row.KindKey == subject)
                .Select(row => new ListedRange(row.LowCelsius, row.HighCelsius, row.Decomposes, FormOf(row), row.SourceKey, row.Locator, row.Verification)),
            EvidenceKind.BoilingPoint => Constants(detail, ParentProperty.BoilingPoint),
            EvidenceKind.MeltingPoint or EvidenceKind.State => Constants(detail, ParentProperty.MeltingPoint),
            _ => [],
        };
        return [.. ranges.OrderBy(range => range.Low).ThenBy(range => range.High)];
    }

    /// <summary>What is expected of a candidate when a step is taken, in short.</summary>
    /// <param name="parentKey">The candidate.</param>
    /// <param name="step">The step.</param>
    /// <returns>Missing: null, the table lists no value.</returns>
    public string? Expected(string parentKey, NextStep step)
    {
        ArgumentNullException.ThrowIfNull(step);
        if (step.Kind == NextStepKind.State)
        {
            return Listed(parentKey, EvidenceKind.MeltingPoint, null) is [.., var melts] ? melts.High > TableSnapshot.RoomCelsius ? "solid" : "liquid" : null;
        }

        EvidenceKind? kind = step.Kind switch
        {
            NextStepKind.Derivative or NextStepKind.Recrystallisation => EvidenceKind.DerivativeMeltingRange,
            NextStepKind.BoilingPoint => EvidenceKind.BoilingPoint,
            NextStepKind.MeltingPoint => EvidenceKind.MeltingPoint,
            _ => null,
        };
        return kind is not null && Listed(parentKey, kind.Value, step.Key) is { Count: > 0 } listed
            ? Figure.Range(listed[0].Low, listed.Max(range => range.High), listed.Any(range => range.Decomposes))
            : null;
    }

    private Possibility Lead => Possibility.Leading(Result, Possibilities);

    private static IEnumerable<ListedRange> Constants(ParentDetail detail, ParentProperty property) => detail.Constants
        .Where(row => row.Property == property && Core.Estimates.BoilingPointEstimates.IsNormal(row.PressureKilopascals))
        .Select(row => new ListedRange(row.Low, row.High, false, null, row.SourceKey, row.Locator, row.Verification));

    private static string? FormOf(DerivativeItem row) => row.CarbonylsCondensed > 1 ? $"bis{(row.Form is null ? "" : ", " + row.Form)}" : row.Form;
}

/// <summary>Something an unknown may be.</summary>
/// <param name="Posterior">Its probability, of a group all together.</param>
/// <param name="Candidates">The candidates shown of it. Shape: likeliest first; empty for "none of these".</param>
/// <param name="Group">The group. Missing: null, a single candidate or "none of these".</param>
public sealed record Possibility(double Posterior, IReadOnlyList<CandidateItem> Candidates, CandidateGroup? Group)
{
    /// <summary>All that an answer names. Shape: likeliest first.</summary>
    /// <param name="result">The answer.</param>
    public static IReadOnlyList<Possibility> Of(IdentificationReply result) =>
        [.. In(result).OrderByDescending(possibility => possibility.Posterior)];

    /// <summary>The one that leads: "none of these" where the service says so, else the likeliest of what is listed.</summary>
    /// <param name="result">The answer.</param>
    /// <param name="possibilities">All that it names, likeliest first.</param>
    internal static Possibility Leading(IdentificationReply result, IReadOnlyList<Possibility> possibilities) =>
        possibilities.First(possibility => result.NoneOfThese.Leads == (possibility.Candidates is []));

    private static IEnumerable<Possibility> In(IdentificationReply result)
    {
        var grouped = new HashSet<string>();
        foreach (var candidate in result.Candidates.Where(candidate => !grouped.Contains(candidate.Parent.Key)))
        {
            var group = result.Groups.FirstOrDefault(each => each.ParentKeys.Contains(candidate.Parent.Key));
            grouped.UnionWith(group?.ParentKeys ?? []);
            yield return group is null
                ? new Possibility(candidate.Posterior, [candidate], null)
                : new Possibility(group.Posterior, [.. result.Candidates.Where(each => group.ParentKeys.Contains(each.Parent.Key))], group);
        }

        yield return new Possibility(result.NoneOfThese.Posterior, [], null);
    }
}

/// <summary>One range as a source lists it.</summary>
public sealed record ListedRange(
    double Low, double High, bool Decomposes, string? Form, string SourceKey, string? Locator, Verification Verification);

/// <summary>A strip along which temperatures are drawn.</summary>
/// <param name="From">Its left end. Units: °C.</param>
/// <param name="To">Its right end. Units: °C.</param>
public sealed record Strip(double From, double To)
{
    // A value far off would press all others together; it is drawn at the edge, and its figures stand beside it.
    private const double Farthest = 30;

    /// <summary>A strip that holds a reading, its window, and what is listed near it.</summary>
    /// <param name="low">Lower end of the reading. Units: °C.</param>
    /// <param name="high">Upper end. Units: °C.</param>
    /// <param name="window">Half width of the tolerance window. Units: °C.</param>
    /// <param name="listed">What is listed.</param>
    public static Strip Around(double low, double high, double window, IEnumerable<ListedRange> listed)
    {
        var near = listed.Where(range => range.High > low - Farthest && range.Low < high + Farthest).ToList();
        var from = Math.Min(low - window, near.Select(range => range.Low).DefaultIfEmpty(low).Min());
        var to = Math.Max(high + window, near.Select(range => range.High).DefaultIfEmpty(high).Max());
        return new Strip(Math.Floor((from - 1) / 5) * 5, Math.Ceiling((to + 1) / 5) * 5);
    }

    /// <summary>Where a temperature stands, kept within the strip.</summary>
    /// <param name="celsius">Units: °C.</param>
    /// <returns>Bounds: 0, left, to 1000, right.</returns>
    public int At(double celsius) => (int)Math.Round(1000 * Math.Clamp((celsius - From) / (To - From), 0, 1));

    /// <summary>Whether a range lies beyond the strip.</summary>
    /// <param name="range">The range.</param>
    public bool IsBeyond(ListedRange range)
    {
        ArgumentNullException.ThrowIfNull(range);
        return range.High < From || range.Low > To;
    }
}
