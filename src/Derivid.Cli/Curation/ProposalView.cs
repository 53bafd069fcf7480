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
    /// <param name="console">Where to.</param>
    /// <param name="shown">The proposal.</param>
    /// <param name="people">Who its actors are.</param>
    /// <param name="showsAll">Whether warnings are shown that the version had already.</param>
    public static void Write(IAnsiConsole console, ProposalInFull shown, People people, bool showsAll)
    {
        var proposal = shown.Proposal;
        WriteState(console, proposal);
        console.WriteLine(
            $"against version {Figures.Plain(proposal.BaseVersion)}, by {string.Join(", ", proposal.Authors.Select(people.NameOf))}, last written {Figures.Moment(proposal.UpdatedAt)}");
        if (proposal.Reason is { } reason)
        {
            console.WriteLine($"reason: {reason}");
        }

        console.WriteLine();
        ChangeView.Write(console, shown.Changes);
        console.WriteLine();
        WriteFindings(console, shown.Validation, showsAll);
        foreach (var comment in shown.Comments)
        {
            var step = comment.Occasion is { } occasion ? $", {WireJson.Word(occasion)}" : "";
            console.WriteLine($"{Figures.Moment(comment.At)} {people.NameOf(comment.Author)}{step}: {comment.Text}");
        }
    }

    private static void WriteFindings(IAnsiConsole console, ValidationItem validation, bool showsAll)
    {
        var brought = validation.Findings.Where(finding => finding.IsNew || finding.Severity == FindingSeverity.Error).ToList();
        WriteFindings(console, brought);
        console.WriteLine(
            $"{Figure.Count(validation.Errors, "error")}; {Figure.Count(validation.NewWarnings, "warning")} that this proposal brings.");
        var before = validation.Warnings - validation.NewWarnings;
        if (showsAll)
        {
            WriteFindings(console, validation.Findings.Except(brought));
        }

        if (before > 0)
        {
            console.WriteLine($"{Figure.Count(before, "warning")} stood before it{(showsAll ? "" : "; --all shows them")}.");
        }
    }

    private static void WriteFindings(IAnsiConsole console, IEnumerable<FindingItem> findings)
    {
        foreach (var finding in findings)
        {
            var colour = finding.Severity == FindingSeverity.Error ? Color.Red : Color.Yellow;
            console.Write(new Text(
                $"{WireJson.Word(finding.Severity)}: {finding.Table} {finding.Key}, {RecordWords.Label(finding.Table, finding.Field)}: \"{finding.Value}\"; {finding.Allowed}\n",
                new Style(foreground: colour)));
        }
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
                console.WriteLine($"    {RecordWords.Label(change.Table, field)}: {Value(change.Before, field)} → {Value(change.After, field)}");
            }

            // What comes and what goes is said whole, so that it can be held against the source.
            if (change.Type != ChangeType.Changed)
            {
                console.WriteLine("    " + Whole(change.Table, change.After ?? change.Before));
            }
        }

        console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{Count(changes, ChangeType.Added)} added, {Count(changes, ChangeType.Changed)} changed, {Count(changes, ChangeType.Removed)} removed"));
    }

    private static int Count(IReadOnlyList<ChangeItem> changes, ChangeType type) => changes.Count(c => c.Type == type);

    private static string Whole(string list, JsonElement? record) => record is not { ValueKind: JsonValueKind.Object } json ? "" : string.Join(", ", json.EnumerateObject()
        .Select(field => (field.Name, Value: RecordWords.Text(field.Value, "; ")))
        .Where(field => field.Name != "key" && field.Value.Length > 0)
        .Select(field => $"{RecordWords.Label(list, field.Name)}: {field.Value}"));

    private static string Value(JsonElement? record, string field) => RecordWords.Cell(record, field) is { Length: > 0 } value ? value : Nothing;
}
