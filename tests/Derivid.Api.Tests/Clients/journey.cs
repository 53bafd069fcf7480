// A class from its roster to its gradebook, through the generated client alone; the test looks at what comes back. It is compiled
// with that client by the test, and is no part of the test's own assembly.
using System;
using System.Linq;
using System.Net.Http;
using System.Net.Http.Headers;
using System.Threading.Tasks;
using Generated;

public static class Journey
{
    public static async Task<string> RunAsync(string address, string key)
    {
        using var http = As(address, key);
        var instructor = new DerividApi(http);
        await instructor.GetCurrentKeyAsync();

        var course = (await instructor.MakeCourseAsync(null, null, new CourseRequest
        {
            Name = "Organic practical",
            ShelfList = ["propanone", "butanone", "pentan-3-one", "cyclohexanone", "benzaldehyde", "acetophenone"],
            DerivativeKinds = ["2,4-DNPH", "semicarbazone"],
            SpotTests = ["Tollens", "iodoform"],
        })).Result;

        // A change names the revision it is meant for: the ETag of the last answer.
        async Task<string> Revision() => (await instructor.GetCourseAsync(course.Id)).Headers["ETag"].Single();

        await instructor.PutRosterAsync(course.Id, null, null, null, await Revision(), null, new RosterBody
        {
            Students = [new RosterStudent { Student = "s1", Bench = "A", Place = 1 }, new RosterStudent { Student = "s2", Bench = "A", Place = 2 }],
        });
        var keys = (await instructor.GiveStudentKeysAsync(course.Id, await Revision(), null, new StudentKeysRequest { Students = ["s1"] })).Result.Keys;
        await instructor.HandOutUnknownsAsync(course.Id, null, null, new HandOutRequest());
        var unknown = (await instructor.ListAssignmentsAsync(course.Id, true, null, null)).Result.Items.Single(each => each.Student == "s1");

        using var studentHttp = As(address, keys.Single().Key);
        var student = new DerividApi(studentHttp);
        var made = (await student.MakeReportAsync(course.Id, null, null, new ReportRequest
        {
            Assignment = unknown.Code,
            ClaimedParent = unknown.Parent,
            Reasoning = "It melts there.",
            IsDraft = true,
            Observation = new IdentificationRequest
            {
                Derivatives =
                [
                    new DerivativeObserved { Kind = "2,4-DNPH", MeltingRange = new RangeObserved { Text = "125-127 °C" }, Preparation = Preparation.Recrystallised },
                ],
                SpotTests = [new SpotTestObserved { Test = "iodoform", Outcome = SpotTestOutcome.Positive }],
            },
        })).Result;
        var draft = await student.GetReportAsync(course.Id, made.Id);
        var range = draft.Result.Observation.Derivatives!.Single().MeltingRange!;

        // What a GET answers is what a PUT takes.
        await student.ChangeReportAsync(course.Id, made.Id, draft.Headers["ETag"].Single(), null, new ReportRequest
        {
            Assignment = unknown.Code,
            ClaimedParent = unknown.Parent,
            Reasoning = draft.Result.Reasoning,
            Observation = draft.Result.Observation,
        });

        var grading = (await instructor.GradeReportsAsync(course.Id, null, null, new GradingRequest())).Result;
        while (grading.State != GradingState.Finished)
        {
            await Task.Delay(50);
            grading = (await instructor.GetGradingAsync(course.Id, grading.Id)).Result;
        }

        await instructor.PublishGradesAsync(course.Id, await Revision(), null, new GradePublicationRequest { Grading = grading.Id });
        var book = (await instructor.GetGradebookAsync(course.Id, null)).Result;
        var refusal = "";
        try
        {
            await student.GetGradingAsync(course.Id, grading.Id);
        }
        catch (ApiException<ProblemBody> refused)
        {
            refusal = refused.Result.Type;
        }

        return Newtonsoft.Json.JsonConvert.SerializeObject(new
        {
            course = course.Id,
            onset = range.OnsetCelsius,
            clear = range.ClearPointCelsius,
            refusal,
            gradebook = book.Students.Select(row => new object?[] { row.Student, Word(row.Status), row.Percentage }),
        });
    }

    private static string Word(GradebookStatus status) => Newtonsoft.Json.JsonConvert.SerializeObject(status, new Newtonsoft.Json.Converters.StringEnumConverter()).Trim('"');

    private static HttpClient As(string address, string key) => new()
    {
        BaseAddress = new Uri(address),
        DefaultRequestHeaders = { Authorization = new AuthenticationHeaderValue("Bearer", key) },
    };
}
