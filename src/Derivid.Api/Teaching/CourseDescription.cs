using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Observations;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>A course as described, to be kept: keys for names, defaults written out.</summary>
/// <param name="request">The course as described; its shape has been checked.</param>
/// <param name="table">The version of the table the course holds to.</param>
/// <param name="errors">Takes the faults.</param>
public sealed class CourseDescription(CourseRequest request, ServedTable table, FieldErrors errors)
{
    /// <summary>Writes the description into a course. It means something only while no faults were noted.</summary>
    /// <param name="course">The course.</param>
    public void Into(Course course)
    {
        ArgumentNullException.ThrowIfNull(course);
        course.Name = request.Name.Trim();
        if (course.Name.Length == 0)
        {
            errors.Add("/name", "Empty; give the course a name.");
        }

        course.TableVersion = table.Table.Version;
        course.ShelfKeys = Keys(table.Parents, request.ShelfList, "/shelfList");
        course.KindKeys = Keys(table.Kinds, request.DerivativeKinds ?? [], "/derivativeKinds");
        course.SpotTestKeys = Keys(table.Tests, request.SpotTests ?? [], "/spotTests");
        course.TakesBoilingPoint = request.TakesBoilingPoint ?? false;
        course.TakesMeltingPoint = request.TakesMeltingPoint ?? false;
        course.WindowCelsius = request.WindowCelsius ?? Observation.DefaultWindowCelsius;
        course.RubricJson = Rubrics.Written(Rubrics.Read(request.Rubric, "/rubric", errors));
        course.GraceMinutes = request.GraceMinutes ?? 0;
        course.CountsBest = request.CountedAttempt == CountedAttempt.Best;
        course.MostAttempts = request.MostAttempts ?? 1;
        course.ShowsRanking = request.ShowsRanking ?? false;
        course.IsExamination = request.IsExamination ?? false;
        var isPractice = request.IsPractice ?? false;
        if (course.IsExamination && isPractice)
        {
            errors.Add("/isPractice", "An examination is no practice: it counts, and tells nobody what an unknown was.");
        }

        if (course.HandOutNumber > 0 && isPractice != course.IsPractice)
        {
            // Else what was handed out to be marked could be told, or what was told be marked.
            errors.Add(
                "/isPractice",
                $"Unknowns are handed out, so it stays {(course.IsPractice ? "for practice, true" : "a course that counts, false")}; make another course.");
        }

        var isMarkedAnonymously = request.IsMarkedAnonymously ?? false;
        if (isPractice && isMarkedAnonymously)
        {
            errors.Add("/isMarkedAnonymously", "A course for practice counts for nothing, so there is nothing to be marked without knowing whose it is.");
        }

        if (course.HandOutNumber > 0 && isMarkedAnonymously != course.IsMarkedAnonymously)
        {
            // Else whoever looks in between knows whose reports are whose, or students find that they were named after all.
            errors.Add(
                "/isMarkedAnonymously",
                $"Unknowns are handed out, so it stays {(course.IsMarkedAnonymously ? "marked anonymously, true" : "marked by name, false")}; make another course.");
        }

        course.IsLearnedFrom = request.IsLearnedFrom ?? false;
        course.IsMarkedAnonymously = isMarkedAnonymously;
        course.IsPractice = isPractice;
        course.DueAtUtc = request.DueAt?.UtcDateTime;
        course.ClosesAtUtc = request.ClosesAt?.UtcDateTime;
        if (course.DueAtUtc?.AddMinutes(course.GraceMinutes) is { } late && course.ClosesAtUtc < late)
        {
            errors.Add(
                "/closesAt",
                FormattableString.Invariant(
                    $"The course closes before its reports are {(course.GraceMinutes == 0 ? "due" : "late")}, {late:yyyy-MM-ddTHH:mm:ssZ}; choose that instant or a later one, or an earlier dueAt too."));
        }
    }

    private List<string> Keys(NameIndex names, IReadOnlyList<string> given, string place)
    {
        var keys = new List<string>();
        for (var i = 0; i < given.Count; i++)
        {
            var here = JsonPointer.Item(place, i);
            if (names.Find(given[i]) is not { } key)
            {
                errors.Add(here, names.Unknown(given[i]));
            }
            else if (keys.Contains(key))
            {
                errors.Add(here, $"{Text.Quoted(given[i])} names {key}, which is in the list already.");
            }
            else
            {
                keys.Add(key);
            }
        }

        return [.. keys.Order(StringComparer.Ordinal)];
    }
}
