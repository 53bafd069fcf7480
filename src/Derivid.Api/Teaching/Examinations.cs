using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Core.Teaching;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>
/// Keeps the engine from those who sit an examination: for a student of a course that is one, nothing is identified and no
/// ranking is shown while the course takes reports.
/// </summary>
/// <remarks>
/// It ends for the whole class at once, when grades are published or the course closes for the last who has longer: as long as reports are taken, a
/// student who has handed in could still ask for a neighbour. It knows people by the rosters. Where the service identifies for
/// anyone, whoever no roster names is not kept from anything; where it asks for a key or a sign-in, a student whom none ever named
/// is until the examination closes, since a sign-in at the institution beside the key of a course could be anybody's. The database is asked each time, so that
/// all instances agree; while it is away, those who are known get 503.
/// </remarks>
/// <param name="courses">The courses.</param>
/// <param name="settings">Whether anyone may identify.</param>
/// <param name="time">The clock.</param>
public sealed class Examinations(Courses courses, AccessSettings settings, TimeProvider time) : IEndpointFilter
{
    /// <summary>What an instructor is told of an examination on a service that identifies for anyone.</summary>
    public const string OpenToAnyone =
        "This service identifies for anyone who sends no key, so a student who leaves theirs out is not kept from it: the "
        + "examination rests on trust. An administrator changes that with the setting Access:RequireKeyToRead.";

    /// <summary>What an instructor is told of an examination that might last for ever.</summary>
    public const string OpenEnded =
        "The examination has no closesAt, so students whom no roster names, by a sign-in beside the key of the course for instance, "
        + "are not kept from the engine: that would have no end. Say when it closes.";

    /// <inheritdoc/>
    public async ValueTask<object?> InvokeAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(next);
        return await OfAsync(context.HttpContext) is { } problem ? problem : await next(context);
    }

    /// <summary>
    /// Whether the caller sits one; to be asked once a body is here to its last byte, or one begun before the hand-out and held open
    /// would be answered amid the examination.
    /// </summary>
    /// <param name="http">The request.</param>
    /// <returns>The problem. Missing: null, nothing keeps them from the engine.</returns>
    public async Task<Problem?> OfAsync(HttpContext http)
    {
        ArgumentNullException.ThrowIfNull(http);
        return Caller.Of(http) is { Role: not Role.Administrator } caller
            && await courses.ExaminationOfAsync(
                caller.Actor,
                settings.RequireKeyToRead && caller.Role is null or Role.Student,
                time.GetUtcNow().UtcDateTime,
                http.RequestAborted) is { } examination
            ? Refused(examination, caller)
            : null;
    }

    private static Problem Refused(SatExamination examination, Caller caller)
    {
        var course = examination.Course;
        // Until when somebody else has longer is theirs to know.
        var end = examination.ClosesAtUtc is not { } closes ? "until its grades are published"
            : closes != course.ClosesAtUtc ? "until it is over for everybody"
            : FormattableString.Invariant($"until {closes:yyyy-MM-ddTHH:mm:ssZ}, or until grades are published");
        return new Problem(
            ProblemTypes.ExaminationOpen,
            examination.IsNamed
                ? $"The course {Text.Quoted(course.Name)} is an examination and takes your reports; {end}, nothing is identified for you."
                : $"An examination is open, and no roster says which student you are; {end}, nothing is identified for you. Whoever runs a course of yours can name you in its roster, as {Text.Quoted(caller.Actor)}.");
    }
}

/// <summary>States that an endpoint is kept from those who sit an examination: one that reads no body, and else asks after it.</summary>
public static class ExaminationDescriptions
{
    /// <summary>Keeps them from it.</summary>
    /// <typeparam name="TBuilder">Endpoint or group.</typeparam>
    /// <param name="builder">The endpoint or group.</param>
    public static TBuilder NotInExaminations<TBuilder>(this TBuilder builder)
        where TBuilder : IEndpointConventionBuilder =>
        builder.AddEndpointFilter<TBuilder, Examinations>().ProducesProblems(ProblemTypes.ExaminationOpen);
}
