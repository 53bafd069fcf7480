using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Api.Teaching;
using Derivid.Contracts;
using Derivid.Core.Observations;
using Derivid.Core.SpotTests;
using Derivid.Store;
using Derivid.Store.Databases;
using Derivid.Store.Teaching;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests.Curation;

/// <summary>A course of the past, written into the database: the service's clock stands still, and a class takes a hundred requests.</summary>
/// <remarks>Everything in it is made up. Its words are such as no answer has by chance.</remarks>
internal sealed record TaughtClass
{
    /// <summary>What the tests' clock has long left behind.</summary>
    public static readonly DateTime LongAgo = new(2025, 6, 1, 12, 0, 0, DateTimeKind.Utc);

    private static readonly string[] Kinds = ["2-4-dinitrophenylhydrazone", "semicarbazone"];

    // Honest classes err by degrees, so that nobody takes them for copies.
    private static readonly double[] Errors = [-3, 2.5, -1.5, 3, 1, -2.5, 2, -1.5];

    /// <summary>Its id. Shape: as those of the service.</summary>
    public string Id { get; private init; } = "";

    /// <summary>What must be told by nobody: names, codes, ids, notes.</summary>
    public IReadOnlyList<string> Secrets { get; private init; } = [];

    public bool IsLearnedFrom { get; init; } = true;

    public bool IsPractice { get; init; }

    public bool IsInvented { get; init; }

    public DateTime HandedOutAt { get; init; } = LongAgo;

    /// <summary>Missing: null, its unknowns are open.</summary>
    public DateTime? PublishedAt { get; init; } = LongAgo.AddDays(14);

    /// <summary>Whether it is known when grades were published.</summary>
    public bool IsPublishedAtKnown { get; init; } = true;

    /// <summary>Students that get each compound.</summary>
    public int Students { get; init; } = 8;

    /// <summary>Reports that each hands in on it.</summary>
    public int Attempts { get; init; } = 1;

    /// <summary>The compounds, by key of the table.</summary>
    public IReadOnlyList<string> Compounds { get; init; } = ["benzaldehyde", "propanone", "cyclohexanone"];

    /// <summary>What is inside, by compound on the label and number of the student. Missing: what the label says.</summary>
    public Func<string, int, string> Inside { get; init; } = (label, _) => label;

    /// <summary>How Tollens' test of an aldehyde turns out, by number of the student; that of a ketone is negative.</summary>
    public Func<int, bool> Tollens { get; init; } = _ => true;

    /// <summary>The colour called, by number of the student.</summary>
    public Func<int, string> Colour { get; init; } = _ => "orange";

    /// <summary>Writes it.</summary>
    public async Task<TaughtClass> WriteAsync(ServiceUnderTest service)
    {
        var cancellation = TestContext.Current.CancellationToken;
        var ids = service.Services.GetRequiredService<ResourceIds>();
        var table = service.Services.GetRequiredService<TableSnapshots>().Current!;
        await using var context = await service.Services.GetRequiredService<IDbContextFactory<DerividContext>>().CreateDbContextAsync(cancellation);
        var id = ids.New();
        var grading = ids.New();
        var written = new List<CourseReport>();
        var assignments = new List<Assignment>();
        context.Courses.Add(new Course
        {
            Id = id,
            Name = $"Zwölfender practical {id}",
            TableVersion = 1,
            ShelfKeys = Compounds,
            KindKeys = [],
            SpotTestKeys = [],
            WindowCelsius = 5,
            RubricJson = "{}",
            MostAttempts = Attempts,
            HandOutNumber = 1,
            PublishedGradingId = PublishedAt is null ? null : grading,
            PublishedAtUtc = IsPublishedAtKnown ? PublishedAt : null,
            IsLearnedFrom = IsLearnedFrom,
            IsPractice = IsPractice,
            IsInvented = IsInvented,
            Revision = 1,
            CreatedAtUtc = HandedOutAt,
        });
        context.StoredHandOuts.Add(new StoredHandOut
        {
            CourseId = id,
            Number = 1,
            Seed = $"seed-{id}",
            TableVersion = 1,
            ModelVersion = "1",
            ShelfKeys = Compounds,
            SummaryJson = "{}",
            HandedOutAtUtc = HandedOutAt,
        });
        foreach (var label in Compounds)
        {
            foreach (var student in Enumerable.Range(0, Students))
            {
                var assignment = new Assignment(id, 1, $"sälzer.{student}.{label}.{id}", 1, $"C0DE-{id}-{label}-{student}", label);
                assignments.Add(assignment);
                context.CourseStudents.Add(new CourseStudent { CourseId = id, StudentKey = assignment.StudentKey, Neighbours = [], IsEnrolled = true });
                context.Assignments.Add(assignment);
                foreach (var attempt in Enumerable.Range(1, Attempts))
                {
                    var report = new CourseReport
                    {
                        Id = ids.New(),
                        CourseId = id,
                        HandOutNumber = 1,
                        StudentKey = assignment.StudentKey,
                        Number = 1,
                        Attempt = attempt,
                        BodyJson = Body(Inside(label, student), student, table),
                        CreatedAtUtc = HandedOutAt,
                        HandedInAtUtc = HandedOutAt.AddDays(7),
                        Revision = 1,
                    };
                    written.Add(report);
                    context.CourseReports.Add(report);
                }
            }
        }

        await context.SaveChangesAsync(cancellation);
        return this with
        {
            Id = id,
            Secrets = [id, grading, "Zwölfender", "sälzer", "C0DE", "Kapuziner", .. written.Select(report => report.Id), .. assignments.Select(row => row.Code)],
        };
    }

    /// <summary>What somebody hands in who has a compound before them.</summary>
    private string Body(string inside, int student, ServedTable table)
    {
        var isAldehyde = inside.EndsWith("benzaldehyde", StringComparison.Ordinal);
        var errors = new FieldErrors();
        var body = ReportBody.Of(
            new ReportRequest
            {
                Assignment = "any",
                Notes = "Kapuziner",
                Observation = new IdentificationRequest
                {
                    // Standards as they should read, near what is melted.
                    Thermometer = new ThermometerDescribed { Standards = [.. table.Table.Standards.Select(standard => new StandardMelted { Standard = standard.Key, ReadCelsius = standard.ClearPointCelsius })] },
                    Derivatives =
                    [
                        .. Kinds.Select(kind => new DerivativeObserved
                        {
                            Kind = kind,
                            MeltingRange = Range(table.Table.Derivatives.First(record => record.ParentKey == inside && record.KindKey == kind).HighCelsius + Errors[student % Errors.Length]),
                            Preparation = Preparation.Recrystallised,
                            Colour = kind == "semicarbazone" ? null : Colour(student),
                        }),
                    ],
                    SpotTests =
                    [
                        new SpotTestObserved { Test = "tollens", Outcome = isAldehyde && Tollens(student) ? SpotTestOutcome.Positive : SpotTestOutcome.Negative },
                        new SpotTestObserved { Test = "iodoform", Outcome = inside == "propanone" ? SpotTestOutcome.Positive : SpotTestOutcome.Negative },
                    ],
                },
            },
            table, errors);
        Assert.Null(errors.ToProblem());
        return body.ToJson();
    }

    private static string Range(double clear) => FormattableString.Invariant($"{clear - 1:0.0}-{clear:0.0}");
}
