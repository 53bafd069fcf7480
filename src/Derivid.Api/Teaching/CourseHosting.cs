using Derivid.Api.Http;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Sets up teaching.</summary>
public static class CourseHosting
{
    /// <summary>Adds what courses need.</summary>
    /// <param name="services">The services.</param>
    public static void AddCourses(this IServiceCollection services)
    {
        services.AddSingleton<CourseAccess>();
        services.AddSingleton<AnonymousMarking>();
        services.AddSingleton<Examinations>();
        services.AddSingleton<ReportIntake>();
        services.AddSingleton<ClassReports>();
        services.AddSingleton<GradingStart>();
        services.AddSingleton<Gradebooks>();
        services.AddSingleton<GradingWorker>();
        services.AddHostedService(provider => provider.GetRequiredService<GradingWorker>());
    }

    /// <summary>Maps everything about courses.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapTeaching(this RouteGroupBuilder api)
    {
        var courses = api.MapGroup("/courses")
            .WithTags("Courses")
            .AddEndpointFilter<RouteGroupBuilder, CourseRefusals>()
            .ProducesProblems(ProblemTypes.StorageUnavailable);
        courses.MapCourses();
        courses.MapArchive();
        courses.MapStaff();
        courses.MapRosters();
        courses.MapExtensions();
        courses.MapStudentKeys();
        courses.MapHandOuts();
        courses.MapAssignments();
        courses.MapFilling();
        courses.MapReports();
        courses.MapGradings();
        courses.MapGrades();
        courses.MapGradebook();
        courses.MapModerations();
        courses.MapOverview();
        api.MapSchemas();
    }
}

/// <summary>A write was refused in the transaction that would have written it; nothing was changed.</summary>
/// <param name="problem">Why.</param>
public sealed class RefusedException(Problem problem) : Exception(problem.Detail)
{
    /// <summary>Why.</summary>
    public Problem Problem { get; } = problem;
}

/// <summary>Turns what is refused while it is written into problems.</summary>
public sealed class CourseRefusals : IEndpointFilter
{
    /// <inheritdoc/>
    public async ValueTask<object?> InvokeAsync(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        ArgumentNullException.ThrowIfNull(next);
        try
        {
            return await next(context);
        }
        catch (RefusedException refused)
        {
            return refused.Problem;
        }
        catch (CourseRuleException refused)
        {
            return new Problem(
                refused.Rule switch
                {
                    CourseRule.Stale => ProblemTypes.StaleRevision,
                    CourseRule.DropsStudents => ProblemTypes.RosterDropsStudents,
                    CourseRule.MarkedBlind => ProblemTypes.Withheld,
                    CourseRule.NotYours => ProblemTypes.NotFound,
                    _ => ProblemTypes.CourseStateForbids,
                },
                refused.Message)
            {
                Errors = refused.Each is { } each ? new Dictionary<string, IReadOnlyList<string>> { ["/students"] = each } : null,
            };
        }
    }
}
