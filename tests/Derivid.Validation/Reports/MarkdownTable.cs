using System.Text;

namespace Derivid.Validation.Reports;

/// <summary>A Markdown table under construction.</summary>
public sealed class MarkdownTable
{
    private readonly StringBuilder _text = new();

    /// <summary>Starts with the head.</summary>
    public MarkdownTable(IReadOnlyList<string> head)
    {
        Add(head);
        Add([.. head.Select(_ => "---")]);
    }

    /// <summary>Adds a row.</summary>
    public void Add(IReadOnlyList<string> cells) => _text.Append("| ").AppendJoin(" | ", cells).Append(" |\n");

    /// <inheritdoc/>
    public override string ToString() => _text.ToString();
}
