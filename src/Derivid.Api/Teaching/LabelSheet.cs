using System.Net;
using System.Text;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>A page of labels to print, stick on vials and hand out. It says nothing of what is inside.</summary>
public static class LabelSheet
{
    private const string Style =
        """
        @page { margin: 10mm }
        body { font: 10pt/1.3 sans-serif; margin: 0; color: #000 }
        ul { display: grid; grid-template-columns: repeat(3, 1fr); gap: 2mm; margin: 0; padding: 0; list-style: none }
        li { border: .3mm solid #666; border-radius: 1mm; padding: 3mm; break-inside: avoid; overflow-wrap: anywhere }
        strong { display: block; font: bold 18pt/1.4 monospace; letter-spacing: .05em }
        span, small { display: block }
        """;

    /// <summary>Writes the page.</summary>
    /// <param name="course">The course.</param>
    /// <param name="assignments">Its unknowns; one that a group shares is one vial, at the place of the first of them.</param>
    /// <param name="students">Its students, for their places.</param>
    /// <param name="caution">What every label warns of, the same on each.</param>
    public static string Write(
        Course course, IEnumerable<Assignment> assignments, IEnumerable<CourseStudent> students, string caution)
    {
        ArgumentNullException.ThrowIfNull(course);
        ArgumentNullException.ThrowIfNull(assignments);
        var places = students.ToDictionary(student => student.StudentKey, StringComparer.Ordinal);
        var labels = new StringBuilder();

        // Bench by bench, as they are put out.
        var vials = assignments.GroupBy(assignment => assignment.Code, StringComparer.Ordinal)
            .Select(vial => (Vial: vial, Seat: vial.Select(assignment => places.GetValueOrDefault(assignment.StudentKey)).FirstOrDefault(student => student is not null)))
            .OrderBy(placed => placed.Seat?.Bench, BenchOrder.Instance).ThenBy(placed => placed.Seat?.Place);
        foreach (var (vial, seat) in vials)
        {
            var who = string.Join(", ", vial.Select(assignment => assignment.StudentKey));
            labels.Append("<li><strong>").Append(vial.Key).Append("</strong><span>")
                .Append(WebUtility.HtmlEncode(vial.First().GroupName is { } group ? $"{group}: {who}" : who)).Append("</span><span>")
                .Append(WebUtility.HtmlEncode(Seat.InWords(seat?.Bench, seat?.Place))).Append("</span><span>")
                .Append(WebUtility.HtmlEncode(course.Name)).Append("</span><small>")
                .Append(WebUtility.HtmlEncode(caution)).Append("</small></li>\n");
        }

        var title = WebUtility.HtmlEncode(course.Name);
        return $"""
            <!DOCTYPE html>
            <html lang="en">
            <head><meta charset="utf-8"><title>Labels: {title}</title><style>{Style}</style></head>
            <body>
            <ul>
            {labels}</ul>
            </body>
            </html>

            """;
    }
}
