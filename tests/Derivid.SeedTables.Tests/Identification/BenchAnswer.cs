using System.Collections.Concurrent;
using System.Globalization;
using System.Text.RegularExpressions;
using Derivid.Core.Ranking;
using Derivid.Store.Seeding;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests.Identification;

/// <summary>What the engine says to a bench situation, held against what a chemist expects of it.</summary>
internal sealed class BenchAnswer
{
    private const int NotRanked = int.MaxValue;

    private static readonly ConcurrentDictionary<string, IdentificationEngine> Engines = new(StringComparer.Ordinal);
    private static readonly ConcurrentDictionary<string, BenchAnswer> Answers = new(StringComparer.Ordinal);

    private readonly Core.Ranking.Identification _answer;
    private readonly PosteriorView _view;

    private BenchAnswer(BenchSituation situation)
    {
        var engine = EngineFor(situation);
        var observation = situation.Observed();
        _answer = engine.Identify(observation, Table.Parents.Count);
        _view = engine.Weigh(observation);
    }

    /// <summary>Identifies.</summary>
    /// <exception cref="ArgumentException">The observation is refused.</exception>
    public static BenchAnswer To(BenchSituation situation) =>
        Answers.GetOrAdd(situation.Name, _ => new BenchAnswer(situation));

    /// <summary>Holds one statement against the answer.</summary>
    /// <returns>What came instead. Missing: null, the statement holds.</returns>
    public string? Miss(string column, string statement) => column switch
    {
        "order" => MissOfOrder(statement),
        "probabilities" => MissOfProbability(statement),
        "sentence" => MissOfSentence(statement),
        "warning" => MissOfWarning(statement),
        _ => MissOfAdvice(statement),
    };

    private static IdentificationEngine EngineFor(BenchSituation situation) => Engines.GetOrAdd(
        string.Join(' ', situation.Statements("without")),
        _ => new IdentificationEngine(TableSnapshot.Build(situation.TableServed(), ModelSettingsReader.BuiltIn())));

    private string? MissOfOrder(string statement)
    {
        bool AnyOf(string keys, Func<int, bool> holds) => keys.Split(" / ").Any(key => holds(Rank(key)));
        bool holds;
        if (Matched(statement, "^first: (.+)$") is { } first)
        {
            holds = AnyOf(first[1], rank => rank == 1);
        }
        else if (Matched(statement, @"^(not )?among first (\d+): (.+)$") is { } among)
        {
            var limit = int.Parse(among[2], CultureInfo.InvariantCulture);
            holds = AnyOf(among[3], rank => rank <= limit) == (among[1] == "");
        }
        else if (Matched(statement, @"^first group (contains|lacks) (\S+)$") is { } group)
        {
            Rank(group[2]);
            holds = LeadingGroup().Contains(group[2]) == (group[1] == "contains");
        }
        else
        {
            var pair = Demand(statement, "^(.+) before (.+)$");
            holds = AnyOf(pair[1], one => AnyOf(pair[2], other => one < other));
        }

        return holds ? null : $"{RankedInWords()}; leading group {string.Join(", ", LeadingGroup())}";
    }

    private string? MissOfProbability(string statement)
    {
        var parts = Demand(statement, "^(.+?) (>=|<=|>|<|=) (.+)$");
        var left = Sum(parts[1]);
        var (factor, right) = Matched(parts[3], "^([0-9.]+) x (.+)$") is { } scaled
            ? (Number(scaled[1]), scaled[2])
            : (1.0, parts[3]);
        var bound = factor * (Matched(right, @"^(.+) in (\S+)$") is { } elsewhere
            ? To(BenchSituation.All[elsewhere[2]]).Sum(elsewhere[1])
            : double.TryParse(right, CultureInfo.InvariantCulture, out var number) ? number : Sum(right));
        var holds = parts[2] switch
        {
            ">=" => left >= bound,
            "<=" => left <= bound,
            ">" => left > bound + 1e-9,
            "<" => left < bound - 1e-9,
            _ => Math.Abs(left - bound) < 1e-9,
        };
        return holds ? null : FormattableString.Invariant($"{left:0.0000} against {bound:0.0000}; {RankedInWords()}");
    }

    private string? MissOfSentence(string statement)
    {
        var parts = Demand(statement, @"^(summary|none|cautions|candidate \S+) (contains|lacks) (.+)$");
        var text = parts[1] switch
        {
            "summary" => _answer.Summary,
            "none" => _answer.NoneOfThese.Sentence,
            "cautions" => string.Join(' ', _answer.Cautions),
            var candidate => OfCandidate(candidate["candidate ".Length..]),
        };
        return Says(text, parts[3]) == (parts[2] == "contains") ? null : $"“{text}”";
    }

    private string? MissOfWarning(string statement)
    {
        var parts = Demand(statement, "^(contains|lacks) (.+)$");
        return _answer.Warnings.Any(warning => Says(warning, parts[2])) == (parts[1] == "contains")
            ? null
            : $"[{string.Join(" | ", _answer.Warnings)}]";
    }

    private string? MissOfAdvice(string statement)
    {
        var steps = _answer.NextSteps.Select(StepName).ToList();
        bool AnyOf(string names, Func<int, bool> holds) => names.Split(" / ").Any(name => holds(Place(steps, name)));
        bool holds;
        if (Matched(statement, "^(offered|never): (.+)$") is { } offered)
        {
            holds = AnyOf(offered[2], place => place != NotRanked) == (offered[1] == "offered");
        }
        else if (Matched(statement, @"^(not )?among first (\d+): (.+)$") is { } among)
        {
            var limit = int.Parse(among[2], CultureInfo.InvariantCulture);
            holds = AnyOf(among[3], place => place <= limit) == (among[1] == "");
        }
        else
        {
            var pair = Demand(statement, @"^(\S+) before (\S+)$");
            holds = Place(steps, pair[1]) < Place(steps, pair[2]);
        }

        return holds ? null : $"[{string.Join(", ", steps)}]";
    }

    private int Rank(string key)
    {
        Assert.Contains(key, Parents.Keys);
        return _answer.Candidates.FirstOrDefault(candidate => candidate.Parent.Key == key)?.Rank ?? NotRanked;
    }

    private IReadOnlyList<string> LeadingGroup()
    {
        var first = _answer.Candidates[0].Parent.Key;
        return _answer.Groups.FirstOrDefault(group => group.ParentKeys.Contains(first))?.ParentKeys ?? [first];
    }

    /// <summary>A sum of probabilities, or the entropy over all candidates and "none of these" in nats.</summary>
    private double Sum(string terms) => terms.Split(" + ").Sum(term => term switch
    {
        "none" => _answer.NoneOfThese.Posterior,
        "first" => _answer.Candidates[0].Posterior,
        "entropy" => -_view.Probability.Append(_view.NoneOfThese).Sum(p => p > 0 ? p * Math.Log(p) : 0),
        _ => Rank(term) == NotRanked ? 0 : _answer.Candidates[Rank(term) - 1].Posterior,
    });

    private string OfCandidate(string key)
    {
        Assert.NotEqual(NotRanked, Rank(key));
        var candidate = _answer.Candidates[Rank(key) - 1];
        return string.Join(' ', [candidate.HowCommon, .. candidate.Evidence.Select(evidence => evidence.Sentence), .. candidate.Remarks]);
    }

    private static int Place(List<string> steps, string name)
    {
        var key = Known(name);
        return steps.IndexOf(key) is var place and >= 0 ? place + 1 : NotRanked;
    }

    /// <summary>Refuses a step misspelt, which "never" would take for obeyed.</summary>
    private static string Known(string name) =>
        name is "state" or "recrystallisation" or "boiling-point" or "melting-point" or "mixed-melting-point"
        || Table.SpotTests.Any(test => test.Key == name)
            ? name
            : BenchSituation.KindKey(name);

    private static string StepName(NextStep step) => step.Kind is NextStepKind.Derivative or NextStepKind.SpotTest
        ? step.Key!
        : Regex.Replace(step.Kind.ToString(), "(?<!^)([A-Z])", "-$1").ToLowerInvariant();

    private string RankedInWords() => string.Join(", ", _answer.Candidates.Take(6)
        .Select(candidate => FormattableString.Invariant($"{candidate.Parent.Key} {candidate.Posterior:0.000}"))
        .Append(FormattableString.Invariant($"none {_answer.NoneOfThese.Posterior:0.000}")));

    private static bool Says(string text, string anyOf) =>
        anyOf.Split(" / ").Any(words => text.Contains(words, StringComparison.OrdinalIgnoreCase));

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static string[]? Matched(string text, string pattern) => Regex.Match(text, pattern) is { Success: true } match
        ? [.. match.Groups.Values.Select(group => group.Value)]
        : null;

    private static string[] Demand(string text, string pattern) =>
        Matched(text, pattern) ?? throw new FormatException($"'{text}' is no statement that can be checked.");
}
