using Derivid.Api.Table;
using Derivid.Core.Teaching.ClassView;
using Derivid.Core.Teaching.Grading;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Fetches the reports of a class as the laboratory looks at them.</summary>
/// <param name="courses">The rosters.</param>
/// <param name="handOuts">The unknowns handed out.</param>
/// <param name="reports">The reports.</param>
/// <param name="gradings">The grades.</param>
public sealed class ClassReports(Store.Teaching.Courses courses, HandOuts handOuts, Reports reports, Gradings gradings)
{
    /// <summary>Fetches the last report on each unknown, which tells what the bench reads now even where a better one counts.</summary>
    /// <param name="course">The course.</param>
    /// <param name="grading">Where grades are taken from. Missing: null, none.</param>
    /// <param name="table">The version of the table the course holds to.</param>
    /// <param name="names">By which names students are told; while those are codes, nothing of their benches. A group is called by its members; it works at the bench of the first of them.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>Shape: by report id; those this version of the table can't take are left out.</returns>
    public async Task<IReadOnlyList<ClassReport>> ReadAsync(
        Course course, Grading? grading, ServedTable table, MarkedNames names, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(course);
        ArgumentNullException.ThrowIfNull(names);
        var roster = await courses.RosterAsync(course.Id, cancellationToken);

        // Whoever moved students from bench to bench would find which readings go with them.
        var benches = names.IsBlind ? [] : roster
            .ToDictionary(student => student.StudentKey, student => student.Bench, StringComparer.Ordinal);
        var handOut = await handOuts.FindAsync(course.Id, course.HandOutNumber, cancellationToken);
        var unknowns = await handOuts.AssignmentsAsync(course.Id, course.HandOutNumber, null, cancellationToken);
        var deadlines = ReportGrading.DeadlinesOf(course, roster, unknowns);
        var handedOut = unknowns.ToLookup(row => (row.HolderKey, row.Number));
        var counted = (await reports.CountedAsync(course.Id, course.HandOutNumber, countsBest: false, cancellationToken))
            .Select(row => row.Id).ToHashSet(StringComparer.Ordinal);
        var grades = await GradesAsync(grading, cancellationToken);
        var all = await reports.ListAsync(course.Id, course.HandOutNumber, null, null, Reports.All, cancellationToken);

        var found = new List<ClassReport>();
        foreach (var kept in all.Where(row => counted.Contains(row.Id)))
        {
            if (ReportGrading.ReportOf(kept, deadlines, table).Succeeded(out var report, out _))
            {
                var members = handedOut[(kept.StudentKey, kept.Number)].ToList();
                found.Add(new ClassReport(
                    names.IsBlind ? names.Student(kept.StudentKey) : string.Join(" + ", members.Select(row => row.StudentKey)),
                    members.Select(row => benches.GetValueOrDefault(row.StudentKey)).FirstOrDefault(bench => bench is not null),
                    new Unknown(members[0].ParentKey, handOut!.ShelfKeys),
                    report,
                    grades.GetValueOrDefault(kept.Id)));
            }
        }

        return found;
    }

    private async Task<Dictionary<string, Grade>> GradesAsync(Grading? grading, CancellationToken cancellationToken) =>
        grading is null
            ? []
            : (await gradings.GradesAsync(grading, null, null, Reports.All, cancellationToken))
                .Where(row => row.IsOfHolder && row.Grade is not null)
                .ToDictionary(row => row.Report.Id, row => ReportGrading.Kept(row.Grade!), StringComparer.Ordinal);
}
