using System.Text.Json;
using System.Text.RegularExpressions;
using Derivid.Api.Tests.Deployment;

namespace Derivid.Api.Tests.Operating;

/// <summary>The dashboard and the rules in deploy/monitoring.</summary>
internal static partial class Watching
{
    /// <summary>The dashboard.</summary>
    public static JsonElement Dashboard { get; } = JsonElement.Parse(DeployFiles.Text("deploy/monitoring/dashboard.json"));

    /// <summary>Its panels, those of rows among them.</summary>
    public static IReadOnlyList<JsonElement> Panels { get; } = [.. Dashboard.GetProperty("panels").EnumerateArray().Where(panel => panel.TryGetProperty("targets", out _))];

    /// <summary>The rules: what each is called, and its query.</summary>
    public static IReadOnlyDictionary<string, string> Rules { get; } =
        ((List<object>)DeployFiles.Yaml("deploy/monitoring/alerts.yaml")["groups"]).Cast<Dictionary<object, object>>()
        .SelectMany(group => (List<object>)group["rules"]).Cast<Dictionary<object, object>>()
        .ToDictionary(rule => (string)rule["alert"], rule => (string)rule["expr"]);

    /// <summary>The query of one rule.</summary>
    public static string Rule(string alert) => Rules[alert];

    /// <summary>The queries of a panel, each with the text that names its lines.</summary>
    public static IReadOnlyList<(string Query, string Legend)> QueriesOf(JsonElement panel) =>
        [.. panel.GetProperty("targets").EnumerateArray().Select(target => (target.GetProperty("expr").GetString()!, target.GetProperty("legendFormat").GetString()!))];

    /// <summary>The labels that a legend shows.</summary>
    public static IEnumerable<string> ShownIn(string legend) => Shown().Matches(legend).Select(match => match.Groups[1].Value);

    [GeneratedRegex(@"\{\{\s*(\w+)\s*\}\}")]
    private static partial Regex Shown();
}
