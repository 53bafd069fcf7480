using Deque.AxeCore.Commons;
using Microsoft.Playwright;

namespace Derivid.Page.Tests;

/// <summary>The rules of accessibility that a general-purpose checker (axe) knows, asked of a view.</summary>
/// <remarks>
/// Asked within the view: no view has frames, and the package's own way opens a page of its own for each question, which takes
/// a second on a view of fifty elements.
/// </remarks>
internal static class Accessibility
{
    private static readonly string Script = new BundledAxeScriptProvider().GetScript();

    /// <summary>What breaks a rule.</summary>
    /// <param name="page">The view.</param>
    /// <param name="rules">The rules to ask. Missing: all that are on by default.</param>
    /// <returns>A line each: rule, element and what is wrong with it.</returns>
    public static async Task<IReadOnlyList<string>> FaultsAsync(this IPage page, params string[] rules)
    {
        Assert.Single(page.Frames);
        if (await page.EvaluateAsync<bool>("() => !window.axe"))
        {
            await page.EvaluateAsync(Script);
        }

        var answer = await page.EvaluateAsync<Answer>(
            """
            async rules => {
              const results = await axe.run(document, { resultTypes: ['violations'], ...(rules.length ? { runOnly: { type: 'rule', values: rules } } : {}) });
              return {
                faults: results.violations.flatMap(rule => rule.nodes.map(node => `${rule.id}: ${node.html.slice(0, 200)} ${node.failureSummary}`)),
                looked: results.passes.length + results.violations.length,
              };
            }
            """,
            rules);
        Assert.True(answer.Looked > 0, "No rule found anything to look at.");
        return answer.Faults;
    }

    private sealed class Answer
    {
        public string[] Faults { get; set; } = [];

        public int Looked { get; set; }
    }
}
