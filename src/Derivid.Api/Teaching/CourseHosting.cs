using Derivid.Api.Http;

namespace Derivid.Api.Teaching;

/// <summary>Sets up teaching.</summary>
public static class CourseHosting
{
    /// <summary>Adds what courses need.</summary>
    /// <param name="services">The services.</param>
    public static void AddCourses(this IServiceCollection services)
    {
        services.AddSingleton<CourseAccess>();
        services.AddSingleton<ReportWriting>();
        services.AddSingleton<ClassReports>();
        services.AddSingleton<GradingStart>();
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
        courses.MapRosters();
        courses.MapHandOuts();
        courses.MapAssignments();
        courses.MapReports();
        courses.MapGradings();
        courses.MapGrades();
        courses.MapOverview();
        api.MapSchemas();
    }
}
