using System.Globalization;
using System.Text;
using Derivid.Api.Curation;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Store.Seeding;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>A published gradebook as 1EdTech OneRoster 1.2 CSV files, in delta mode.</summary>
/// <remarks>
/// In delta mode files may refer to what the receiver holds; in bulk mode it would take whatever isn't in them for deleted,
/// other people's results among it. Source: OneRoster CSV Binding 1.2, "Bulk/Delta Behavior Constraints" and the tables of
/// manifest.csv, lineItems.csv and results.csv.
/// </remarks>
/// <param name="references">What the receiver calls class, category, session and school.</param>
/// <param name="now">When it is exported. Units: UTC.</param>
public sealed class OneRosterResults(OneRosterQuery references, DateTime now)
{
    private const string Active = "active";

    private const int MostNamed = 12;

    /// <summary>The columns of lineItems.csv, in the standard's order.</summary>
    public static IReadOnlyList<string> LineItemColumns { get; } =
    [
        "sourcedId", "status", "dateLastModified", "title", "description", "assignDate", "dueDate", "classSourcedId",
        "categorySourcedId", "academicSessionSourcedId", "resultValueMin", "resultValueMax", "schoolSourcedId",
    ];

    /// <summary>The columns of results.csv, in the standard's order.</summary>
    public static IReadOnlyList<string> ResultColumns { get; } =
    [
        "sourcedId", "status", "dateLastModified", "lineItemSourcedId", "studentSourcedId", "scoreStatus", "score", "scoreDate",
        "comment", "textScore", "classSourcedId", "inProgress", "incomplete", "late", "missing",
    ];

    /// <summary>The data files that a manifest tells of, in the standard's order.</summary>
    public static IReadOnlyList<string> Files { get; } =
    [
        "academicSessions", "categories", "classes", "classResources", "courses", "courseResources", "demographics", "enrollments",
        "lineItemLearningObjectiveIds", "lineItems", "lineItemScoreScales", "orgs", "resources", "resultLearningObjectiveIds",
        "results", "resultScoreScales", "roles", "scoreScales", "userProfiles", "userResources", "users",
    ];

    /// <summary>The problem of ids that the standard doesn't take.</summary>
    /// <param name="book">The gradebook.</param>
    /// <returns>Missing: null, it takes them all.</returns>
    public Problem? Refused(GradebookItem book)
    {
        ArgumentNullException.ThrowIfNull(book);
        var errors = new FieldErrors();
        foreach (var (name, value) in new[]
        {
            ("classSourcedId", references.ClassSourcedId),
            ("categorySourcedId", references.CategorySourcedId),
            ("academicSessionSourcedId", references.AcademicSessionSourcedId),
            ("schoolSourcedId", references.SchoolSourcedId),
        }.Where(given => !IsId(given.Item2)))
        {
            errors.Add("?" + name, $"{Text.Quoted(value)} is no sourcedId; letters A to Z, digits and . - _ / @ are allowed.");
        }

        if (errors.ToProblem() is { } wrong)
        {
            return wrong;
        }

        var foreign = book.Students.Select(row => row.Student).Where(student => !IsId(student)).ToList();
        var more = foreign.Count > MostNamed ? $" and {foreign.Count - MostNamed} more" : "";
        return foreign.Count == 0
            ? null
            : new Problem(
                ProblemTypes.CourseStateForbids,
                $"OneRoster takes letters A to Z, digits and . - _ / @ in the id of a student; these of the roster hold others: {string.Join(", ", foreign.Take(MostNamed).Select(Text.Quoted))}{more}. The gradebook as CSV takes them all.");
    }

    /// <summary>Writes the archive.</summary>
    /// <param name="course">The course, which is the line item.</param>
    /// <param name="assigned">When its unknowns were handed out. Units: UTC.</param>
    /// <param name="due">When its reports were due. Units: UTC.</param>
    /// <param name="graded">When the grading was finished. Units: UTC.</param>
    /// <param name="book">The gradebook; nothing in it is refused.</param>
    public byte[] Zip(Course course, DateTime assigned, DateTime due, DateTime graded, GradebookItem book)
    {
        ArgumentNullException.ThrowIfNull(course);
        ArgumentNullException.ThrowIfNull(book);
        string?[] lineItem =
        [
            course.Id, Active, Moment, Words(course.Name), null, Day(assigned), Day(due), references.ClassSourcedId,
            references.CategorySourcedId, references.AcademicSessionSourcedId, "0", "100", references.SchoolSourcedId,
        ];
        var results = book.Students.Where(row => row.Status != GradebookStatus.NoUnknown).Select(row => new string?[]
        {
            $"{course.Id}-{row.Student}", Active, Moment, course.Id, row.Student, Gradebooks.Words(row.Status),
            row.Percentage?.ToString(CultureInfo.InvariantCulture), Day(graded), Words(row.Feedback), null,
            references.ClassSourcedId, null, null, Truth(row.IsLate), Truth(row.IsMissing),
        }).ToList();

        // A file without rows is not permitted; it is absent then.
        return TableExport.Zipped([
            ("manifest.csv", Csv(["propertyName", "value"], Manifest(results.Count > 0))),
            ("lineItems.csv", Csv(LineItemColumns, [lineItem])),
            .. results.Count > 0 ? [("results.csv", Csv(ResultColumns, results))] : Array.Empty<(string, byte[])>(),
        ]);
    }

    /// <summary>Whether a text can be an id there.</summary>
    /// <param name="text">The text.</param>
    internal static bool IsId(string text) =>
        text.Length is > 0 and <= OneRosterQuery.LongestId && text.All(letter => char.IsAsciiLetterOrDigit(letter) || ".-_/@".Contains(letter, StringComparison.Ordinal));

    private static IEnumerable<string?[]> Manifest(bool hasResults) =>
        [
            ["manifest.version", "1.0"],
            ["oneroster.version", "1.2"],
            .. Files.Select(file => new[] { "file." + file, file == "lineItems" || (file == "results" && hasResults) ? "delta" : "absent" }),
            ["source.systemName", "Derivid"],
        ];

    private string Moment => now.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);

    private static string Day(DateTime moment) => moment.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Truth(bool holds) => holds ? "true" : "false";

    // Ids are taken to the letter and hold nothing that a spreadsheet program runs; people's words may.
    private static string Words(string text) => SpreadsheetHabits.Neutralised(text);

    private static byte[] Csv(IReadOnlyList<string> columns, IEnumerable<IReadOnlyList<string?>> rows) =>
        Encoding.UTF8.GetBytes(CsvText.Write(columns, rows, holdsIds: true));
}
