using System.Globalization;
using System.Text.Json;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Curation;
using Spectre.Console;

namespace Derivid.Cli.Curation;

/// <summary>Shows a proposal.</summary>
internal static class ProposalView
{
    public static string StateOf(ProposalItem proposal) => proposal.ReleasedVersion is { } version
        ? $"released as version {Figures.Plain(version)}"
        : WireJson.Word(proposal.State);

    /// <summary>In a line, after a step.</summary>
    public static void WriteState(IAnsiConsole console, ProposalItem proposal) =>
        console.WriteLine($"{proposal.Id} is {StateOf(proposal)}: {proposal.Title}");

    /// <summary>With all that belongs to it.</summary>
    public static void Write(IAnsiConsole console, ProposalInFull shown)
    {
        var proposal = shown.Proposal;
        WriteState(console, proposal);
        console.WriteLine(
            $"against version {Figures.Plain(proposal.BaseVersion)}, by {string.Join(", ", proposal.Authors)}, last written {Figures.Moment(proposal.UpdatedAt)}");
        foreach (var (what, text) in ((string, string?)[])[("reason", proposal.Reason), ("review", proposal.ReviewNote)])
        {
            if (text is not null)
            {
                console.WriteLine($"{what}: {text}");
            }
        }

        console.WriteLine();
        ChangeView.Write(console, shown.Changes);
        console.WriteLine();
        WriteFindings(console, shown.Validation);
        foreach (var comment in shown.Comments)
        {
            console.WriteLine($"{Figures.Moment(comment.At)} {comment.Author}: {comment.Text}");
        }
    }

    private static void WriteFindings(IAnsiConsole console, ValidationItem validation)
    {
        foreach (var finding in validation.Findings.Where(f => f.IsNew || f.Severity == FindingSeverity.Error))
        {
            var colour = finding.Severity == FindingSeverity.Error ? Color.Red : Color.Yellow;
            console.Write(new Text(
                $"{WireJson.Word(finding.Severity)}: {finding.Table} {finding.Key}, {finding.Field}: \"{finding.Value}\"; {finding.Allowed}\n",
                new Style(foreground: colour)));
        }

        console.WriteLine(
            $"{Figure.Count(validation.Errors, "error")}, {Figure.Count(validation.Warnings, "warning")}; warnings the version had already are not shown.");
    }
}

/// <summary>A proposal with all that belongs to it.</summary>
internal sealed record ProposalInFull(
    ProposalItem Proposal,
    ValidationItem Validation,
    IReadOnlyList<ChangeItem> Changes,
    IReadOnlyList<CommentItem> Comments);

/// <summary>Shows differences, a record a line, each changed field below.</summary>
internal static class ChangeView
{
    private const string Nothing = "(none)";

    public static void Write(IAnsiConsole console, IReadOnlyList<ChangeItem> changes)
    {
        foreach (var change in changes)
        {
            var (sign, colour) = change.Type switch
            {
                ChangeType.Added => ('+', Color.Green),
                ChangeType.Removed => ('-', Color.Red),
                ChangeType.Changed => ('~', Color.Yellow),
            };
            console.Write(new Text($"{sign} {change.Table} {change.Key}\n", new Style(foreground: colour)));
            foreach (var field in change.Fields)
            {
                console.WriteLine($"    {field}: {Value(change.Before, field)} → {Value(change.After, field)}");
            }
        }

        console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{Count(changes, ChangeType.Added)} added, {Count(changes, ChangeType.Changed)} changed, {Count(changes, ChangeType.Removed)} removed"));
    }

    private static int Count(IReadOnlyList<ChangeItem> changes, ChangeType type) => changes.Count(c => c.Type == type);

    private static string Value(JsonElement? record, string field) =>
        record is { } json && json.TryGetProperty(field, out var value) && value.ValueKind != JsonValueKind.Null
            ? value.ToString()
            : Nothing;
}
