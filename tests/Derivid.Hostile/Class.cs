using Derivid.Contracts;
using Derivid.Core.Observations;
using Derivid.Core.SpotTests;

namespace Derivid.Hostile;

/// <summary>A course with unknowns handed out. Readings are made up.</summary>
/// <param name="Id">The course.</param>
/// <param name="Codes">The code of each student's unknown.</param>
internal sealed record Class(string Id, IReadOnlyDictionary<string, string> Codes)
{
    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    private static CourseRequest Request => new()
    {
        Name = "Organic practical under attack",
        ShelfList = ["acetone", "2-butanone", "pentan-3-one", "cyclohexanone", "benzaldehyde", "acetophenone"],
        DerivativeKinds = ["2,4-DNPH", "semicarbazone"],
        SpotTests = ["Tollens", "iodoform"],
        MostAttempts = 20,
        ShowsRanking = true,
    };

    /// <summary>Makes one and hands out.</summary>
    /// <param name="site">Where.</param>
    /// <param name="students">Its students; those who hold a key can hand reports in.</param>
    public static async Task<Class> MakeAsync(Site site, IEnumerable<string> students)
    {
        var id = await MakeEmptyAsync(site, students);
        await site.As(Who.Instructor).Courses.HandOutAsync(id, new HandOutRequest(), cancellationToken: Patience);
        var assignments = site.As(Who.Instructor).Courses.ListAssignmentsAsync(id, cancellationToken: Patience);
        return new Class(id, await assignments.ToDictionaryAsync(row => row.Student, row => row.Code, cancellationToken: Patience));
    }

    /// <summary>Makes one and hands out nothing yet.</summary>
    /// <returns>The course.</returns>
    public static async Task<string> MakeEmptyAsync(Site site, IEnumerable<string> students)
    {
        var courses = site.As(Who.Instructor).Courses;
        var made = await courses.CreateAsync(Request, cancellationToken: Patience);
        await courses.PutStaffAsync(
            await courses.GetAsync(made.Id, Patience),
            [
                new StaffMember { Actor = site.ActorOf(Who.Instructor), IsOwner = true },
                new StaffMember { Actor = site.ActorOf(Who.Grader) },
            ],
            Patience);
        await courses.PutRosterAsync(
            await courses.GetAsync(made.Id, Patience),
            [.. students.Select(student => new RosterStudent { Student = student, Actor = site.Keys.ContainsKey(student) ? site.ActorOf(student) : null })],
            cancellationToken: Patience);
        return made.Id;
    }

    /// <summary>Has it take no reports from a moment on.</summary>
    /// <param name="site">Where.</param>
    /// <param name="at">The moment.</param>
    public async Task CloseAtAsync(Site site, DateTimeOffset at)
    {
        var courses = site.As(Who.Instructor).Courses;
        await courses.ChangeAsync(await courses.GetAsync(Id, Patience), Request with { DueAt = at, ClosesAt = at }, Patience);
    }

    /// <summary>Hands a report in.</summary>
    /// <param name="site">Where.</param>
    /// <param name="student">Who; holds a key.</param>
    /// <param name="isDraft">Whether it is a draft only.</param>
    public Task<ReportItem> HandInAsync(Site site, string student, bool isDraft) => site.As(student).Reports.CreateAsync(
        Id,
        new ReportRequest
        {
            Assignment = Codes[student],
            Observation = new IdentificationRequest
            {
                Derivatives = [new DerivativeObserved { Kind = "2,4-DNPH", MeltingRange = "125-127", Preparation = Preparation.Recrystallised }],
                SpotTests = [new SpotTestObserved { Test = "iodoform", Outcome = SpotTestOutcome.Positive }],
            },
            ClaimedParent = "acetone",
            Reasoning = "It melts there.",
            IsDraft = isDraft,
        },
        cancellationToken: Patience);
}
