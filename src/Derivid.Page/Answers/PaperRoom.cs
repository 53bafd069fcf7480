using Derivid.Core;

namespace Derivid.Page.Answers;

/// <summary>How much of an answer is printed, so that it is one page of a notebook in letters that can be read.</summary>
/// <remarks>
/// A style sheet can't count lines, so they are estimated here, in lines of the printed text; the tests print answers of many sorts and
/// count pages. What gives way first is what says least: later candidates, rows of charts, later steps. Evidence on the leader, its
/// sources, every caution and what was entered always stand.
/// </remarks>
/// <param name="ChartRows">Candidates in each chart.</param>
/// <param name="Candidates">Candidates in the list; "none of these" always stands.</param>
/// <param name="Steps">Rows of the next steps.</param>
/// <param name="IsTight">Whether the leader's drawing gives way too, and the letters are the least there are.</param>
public sealed record PaperRoom(int ChartRows, int Candidates, int Steps, bool IsTight = false)
{
    // Letter paper, the shorter of the two sizes in use, with margins of 1 cm.
    private const double Lines = 82, TightLines = 90;

    // What fits on a line, measured on prints: whole lines, evidence beside its bar, two abreast, half a page, a cell.
    private const int Whole = 140, Evidence = 60, Column = 74, Cell = 17, Name = 25;

    private static readonly PaperRoom[] Choices =
    [
        new(4, 8, 3), new(4, 6, 3), new(3, 6, 3), new(3, 5, 2), new(3, 4, 2), new(2, 4, 2), new(2, 3, 2), new(2, 3, 1), new(2, 2, 1), new(1, 2, 1),
        new(2, 3, 1, true), new(1, 2, 1, true), new(1, 1, 1, true), new(1, 1, 0, true),
    ];

    /// <summary>The most that fits; the least there is where nothing does, as with a dozen derivatives.</summary>
    /// <param name="answer">The answer.</param>
    /// <param name="entries">What was entered.</param>
    /// <param name="cautions">The cautions of reagents, each with its name in front.</param>
    /// <param name="general">The other cautions.</param>
    public static PaperRoom For(
        Answer answer, IReadOnlyCollection<(string About, string Seen)> entries, IReadOnlyCollection<string> cautions, IReadOnlyCollection<string> general)
    {
        ArgumentNullException.ThrowIfNull(answer);
        var always = Head(answer) + 2.6 + Entered(entries)
            + 1.7 + (1.3 * 2) + (0.95 * ((cautions.Sum(caution => Rows(caution, Column)) / 2.0) + general.Sum(caution => Rows(caution, Whole))));
        return Choices.FirstOrDefault(choice => always + choice.Leader(answer) + choice.Charts(answer) + choice.List(answer) + choice.Table(answer) <= (choice.IsTight ? TightLines : Lines)) ?? Choices[^1];
    }

    // Two abreast, what each is about before it.
    private static double Entered(IReadOnlyCollection<(string About, string Seen)> entries)
    {
        var room = Math.Max(Column / 3, Column - entries.Select(entry => entry.About.Length).DefaultIfEmpty().Max());
        return entries.Chunk(2).Sum(pair => 0.1 + (1.1 * pair.Max(entry => Rows(entry.Seen, room))));
    }

    private static double Head(Answer answer) =>
        1.8 + (1.9 * Rows(Headline.Of(answer.Result), 82)) + 1.1
        + (answer.Next is { } next ? 0.6 + (1.1 * Rows(next.Sentence, Whole)) + 1.1 : 0)
        + answer.Result.Warnings.Sum(warning => 0.7 + (1.1 * Rows(warning, Whole)));

    // Its drawing, the evidence on it and what is listed of it.
    private double Leader(Answer answer) =>
        (IsTight ? 1.2 : 5.7) + answer.Leader.Evidence.Chunk(2).Sum(pair => 0.2 + pair.Max(piece => Rows(piece.Sentence, Evidence))) + (0.45 * answer.ValuesOf(answer.Leader).Count()) + 1;

    private static int Rows(string text, int letters) => Math.Max(1, (text.Length + letters - 1) / letters);

    // From three on two stand beside each other, each half as wide.
    private double Charts(Answer answer)
    {
        var abreast = answer.Result.Readings.Count > 2 ? 2 : 1;
        return answer.Result.Readings.Count == 0 ? 0 : 3 + answer.Result.Readings.Chunk(abreast).Sum(beside => beside.Max(reading =>
            2.7 + answer.Leaders.Take(ChartRows).Sum(candidate => 0.25 + (1.1 * Math.Max(
                Rows(candidate.Parent.Name, Name / abreast),
                Rows(string.Join(", ", answer.Listed(candidate.Parent.Key, reading.Kind, reading.Subject).Select(range => Figure.Span(range.Low, range.High, 1) + " " + range.Form)), 30 / abreast))))));
    }

    private double List(Answer answer) => 5.2 + answer.Possibilities.SelectMany(possibility => possibility.Candidates).Take(Candidates).Sum(candidate => 0.4 + (1.05 * Rows(candidate.Parent.Name, 45)))
        + answer.Possibilities.Where(possibility => possibility.Group is not null && possibility.Candidates.Any(candidate => Shows(answer, candidate)))
            .Sum(possibility => 0.9 + (1.05 * Rows(possibility.Group!.SeparatedBy?.Sentence ?? "", Whole - 70)) + 0.3)
        + Rows(answer.Result.NoneOfThese.Sentence, Whole);

    private double Table(Answer answer) => Steps == 0 || answer.Result.NextSteps.Count == 0 ? 0
        : 1.9 + (1.2 * answer.Leaders.Take(4).Max(candidate => Rows(candidate.Parent.Name, Cell)))
            + answer.Result.NextSteps.Take(Steps).Sum(step => 0.25 + (1.1 * (answer.Leaders.Take(4).Any(candidate => answer.Expected(candidate.Parent.Key, step) is not null) ? 1.5 : Rows(step.Sentence, 88))));

    /// <summary>Whether a candidate is one of those printed.</summary>
    /// <param name="answer">The answer.</param>
    /// <param name="candidate">One of its candidates.</param>
    public bool Shows(Answer answer, Contracts.CandidateItem candidate)
    {
        ArgumentNullException.ThrowIfNull(answer);
        return answer.Possibilities.SelectMany(possibility => possibility.Candidates).Take(Candidates).Contains(candidate);
    }
}
