using System.Text.RegularExpressions;

namespace Derivid.Api.Tests.Operating;

/// <summary>What a query of Prometheus asks for: a metric's name, matchers of labels, and labels that are grouped by.</summary>
/// <remarks>Enough of the language for the queries in deploy/monitoring, which are held to be no more than this reads.</remarks>
/// <param name="Name">The metric's name.</param>
/// <param name="Matchers">Label, operator and text.</param>
internal sealed partial record Selector(string Name, IReadOnlyList<(string Label, string Operator, string Text)> Matchers)
{
    // What a scraping Prometheus adds by itself.
    private static readonly string[] OfPrometheus = ["instance", "job", "up"];

    private static readonly string[] Words = ["by", "without", "and", "or", "unless", "on", "ignoring", "group_left", "group_right", "bool", "offset", "inf"];

    /// <summary>All selectors of a query, without what Prometheus adds itself.</summary>
    public static IReadOnlyList<Selector> AllOf(string query) =>
        [.. Metric().Matches(Span().Replace(Grouping().Replace(query, " "), "")).Where(match => !Words.Contains(match.Groups["name"].Value) && !OfPrometheus.Contains(match.Groups["name"].Value))
            .Select(match => new Selector(
                match.Groups["name"].Value,
                [.. Matcher().Matches(match.Groups["matchers"].Value)
                    .Select(each => (each.Groups[1].Value, each.Groups[2].Value, each.Groups[3].Value))
                    .Where(each => !OfPrometheus.Contains(each.Item1))]))];

    /// <summary>The labels a query groups by, without what Prometheus adds itself.</summary>
    public static IReadOnlyList<string> GroupedBy(string query) =>
        [.. Grouping().Matches(query).SelectMany(match => match.Groups[1].Value.Split(',', StringSplitOptions.TrimEntries)).Except(OfPrometheus)];

    /// <summary>The series that fit.</summary>
    public IReadOnlyList<Series> In(Scrape scrape) => [.. Named(scrape).Where(series => Matchers.All(matcher => Fits(series, matcher)))];

    /// <summary>The series of the name, whatever their labels hold, that have every label that is asked about.</summary>
    public IReadOnlyList<Series> Named(Scrape scrape) =>
        [.. scrape.Series.Where(series => series.Name == Name && Matchers.All(matcher => series.Labels.ContainsKey(matcher.Label)))];

    private static bool Fits(Series series, (string Label, string Operator, string Text) matcher)
    {
        var value = series.Labels[matcher.Label];
        return matcher.Operator switch
        {
            "=" => value == matcher.Text,
            "!=" => value != matcher.Text,
            "=~" => Regex.IsMatch(value, $"^(?:{matcher.Text})$"),
            _ => !Regex.IsMatch(value, $"^(?:{matcher.Text})$"),
        };
    }

    // A name that no bracket follows, as one does a function's.
    [GeneratedRegex("""(?<![\w"])(?<name>[a-z_][a-z0-9_]*)\b(?!\s*\()(?:\{(?<matchers>[^}]*)\})?""")]
    private static partial Regex Metric();

    [GeneratedRegex("""(\w+)\s*(=~|!~|!=|=)\s*"([^"]*)"(?:,|$|\s)""")]
    private static partial Regex Matcher();

    [GeneratedRegex(@"\[[^\]]*\]")]
    private static partial Regex Span();

    [GeneratedRegex(@"\bby\s*\(([^)]*)\)")]
    private static partial Regex Grouping();
}
