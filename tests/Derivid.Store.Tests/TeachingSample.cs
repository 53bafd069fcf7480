using System.Globalization;
using Derivid.Store.Auditing;
using Derivid.Store.Idempotency;
using Derivid.Store.Teaching;

namespace Derivid.Store.Tests;

/// <summary>A small course to store; everything in it is made up.</summary>
internal static class TeachingSample
{
    public static AuditOrigin Instructor { get; } = new("key:instructor", null, "trace");

    public static Course Course(string id) => new()
    {
        Id = id,
        Name = "Practical",
        TableVersion = 1,
        ShelfKeys = ["propanone"],
        KindKeys = [],
        SpotTestKeys = [],
        WindowCelsius = 5,
        RubricJson = "{}",
        MostAttempts = 2,
        Revision = 1,
        CreatedAtUtc = StoreUnderTest.Now,
    };

    public static CourseStudent Student(string key, string? actor = null, string course = "c") => new()
    {
        CourseId = course,
        StudentKey = key,
        Neighbours = [],
        Actor = actor,
        IsEnrolled = true,
    };

    public static CourseStaff Staff(string actor, bool isOwner = false) =>
        new() { CourseId = "c", Actor = actor, IsOwner = isOwner, IsServing = true };

    public static StoredHandOut HandOut(int number = 1) => new()
    {
        CourseId = "c",
        Number = number,
        Seed = "a seed long enough to be one",
        TableVersion = 1,
        ModelVersion = "1",
        ShelfKeys = ["propanone"],
        SummaryJson = "{}",
        HandedOutAtUtc = StoreUnderTest.Now,
    };

    public static Assignment Assignment(int student, int handOut = 1) =>
        new("c", handOut, StudentKey(student), 1, $"code-{student}", "propanone");

    public static CourseReport Report(int student, bool handedIn = true, string suffix = "", string? id = null) => new()
    {
        Id = id ?? $"r{student:0000}{suffix}",
        CourseId = "c",
        HandOutNumber = 1,
        StudentKey = StudentKey(student),
        Number = 1,
        BodyJson = "{}",
        CreatedAtUtc = StoreUnderTest.Now,
        HandedInAtUtc = handedIn ? StoreUnderTest.Now : null,
        Revision = 1,
    };

    public static Grading Grading(string id, int total, string basis = "basis", string course = "c") => new()
    {
        Id = id,
        CourseId = course,
        Basis = basis,
        KindKeys = [],
        SpotTestKeys = [],
        RubricJson = "{}",
        TableVersion = 1,
        ModelVersion = "1",
        Total = total,
        CreatedAtUtc = StoreUnderTest.Now,
    };

    public static CourseGrade Grade(CourseReport report, string basis = "basis", string json = "{}") =>
        new(report.Id, basis, json, 7.5, 10, StoreUnderTest.Now);

    public static IdempotencyKey Mark(string key, string hash = "hash") => new("key:instructor", key, hash);

    /// <summary>A course with students, each with one unknown and, if asked for, one report handed in.</summary>
    public static async Task FillAsync(StoreUnderTest store, int students, bool withReports, CancellationToken cancellation)
    {
        var course = (await store.Courses.AddAsync(Course("c"), null, Instructor, cancellation)).Value;
        await store.HandOuts.AddAsync(
            course, HandOut(), [.. Enumerable.Range(0, students).Select(student => Assignment(student))], null, Instructor, cancellation);
        if (withReports)
        {
            foreach (var student in Enumerable.Range(0, students))
            {
                await store.Reports.AddAsync(Report(student), 2, null, Instructor, cancellation);
            }
        }
    }

    private static string StudentKey(int student) => string.Create(CultureInfo.InvariantCulture, $"s{student:0000}");
}
