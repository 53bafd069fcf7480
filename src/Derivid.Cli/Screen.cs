using System.Globalization;
using Spectre.Console;

namespace Derivid.Cli;

/// <summary>Where text for people goes: coloured on a terminal, plain and unwrapped elsewhere.</summary>
internal static class Screen
{
    private const int WidthElsewhere = 1000;

    public static IAnsiConsole Of(TextWriter writer, bool isTerminal, Surroundings around)
    {
        var isColoured = isTerminal && around.Variable("NO_COLOR") is not { Length: > 0 } && around.Variable("TERM") != "dumb";
        var console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            // Older consoles of Windows have to be asked, and switched over.
            Ansi = !isColoured ? AnsiSupport.No : OperatingSystem.IsWindows() ? AnsiSupport.Detect : AnsiSupport.Yes,
            ColorSystem = isColoured ? ColorSystemSupport.Standard : ColorSystemSupport.NoColors,
            Interactive = isTerminal ? InteractionSupport.Yes : InteractionSupport.No,
            Out = new AnsiConsoleOutput(writer),
        });
        if (!isTerminal)
        {
            console.Profile.Width = WidthElsewhere;
        }

        return console;
    }

    /// <summary>A table for results.</summary>
    public static Table NewTable(params IEnumerable<string> headings)
    {
        var table = new Table().Border(TableBorder.Simple);
        foreach (var heading in headings)
        {
            table.AddColumn(new TableColumn(new Text(heading)));
        }

        return table;
    }

    /// <summary>Adds a row of plain text.</summary>
    public static void AddTexts(this Table table, params IEnumerable<string?> cells) =>
        table.AddRow(cells.Select(cell => new Text(cell ?? "")));

    /// <summary>A heading and its lines, set in; nothing where there are none.</summary>
    public static void WriteLines(this IAnsiConsole console, string heading, IEnumerable<string> lines)
    {
        var texts = lines.ToList();
        if (texts.Count == 0)
        {
            return;
        }

        console.Write(new Text(heading + "\n", new Style(decoration: Decoration.Bold)));
        foreach (var text in texts)
        {
            console.Write(new Text($"  {text}\n"));
        }

        console.WriteLine();
    }

    /// <summary>A text with its first letter a capital.</summary>
    public static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];
}

/// <summary>How figures are written for people.</summary>
internal static class Figures
{
    /// <summary>A whole number or one with its decimals, with a point.</summary>
    public static string Plain(IFormattable number) => number.ToString(null, CultureInfo.InvariantCulture);

    /// <summary>How long something takes: to the second, and two minutes and more to the minute, rounded up.</summary>
    public static string Duration(TimeSpan time) => time < TimeSpan.FromMinutes(2)
        ? string.Create(CultureInfo.InvariantCulture, $"{Math.Ceiling(time.TotalSeconds):0} s")
        : string.Create(CultureInfo.InvariantCulture, $"{Math.Ceiling(time.TotalMinutes):0} min");

    /// <summary>A day.</summary>
    public static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>An instant, to the minute, UTC.</summary>
    public static string Moment(DateTime? instant) =>
        instant?.ToUniversalTime().ToString("yyyy-MM-dd HH:mm'Z'", CultureInfo.InvariantCulture) ?? "";
}
