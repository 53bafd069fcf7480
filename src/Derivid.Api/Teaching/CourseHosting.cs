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

/// <summary>Turns what the store refuses into problems.</summary>
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
        catch (CourseRuleException refused)
        {
            return new Problem(
                refused.Rule switch
                {
                    CourseRule.Stale => ProblemTypes.StaleRevision,
                    CourseRule.DropsStudents => ProblemTypes.RosterDropsStudents,
                    CourseRule.MarkedBlind => ProblemTypes.Withheld,
                    _ => ProblemTypes.CourseStateForbids,
                },
                refused.Message)
            {
                Errors = refused.Each is { } each ? new Dictionary<string, IReadOnlyList<string>> { ["/students"] = each } : null,
            };
        }
    }
}
