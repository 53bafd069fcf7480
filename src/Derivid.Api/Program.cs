using Derivid.Api.Access;
using Derivid.Api.Auditing;
using Derivid.Api.Curation;
using Derivid.Api.Curation.Imports;
using Derivid.Api.Http;
using Derivid.Api.Identifications;
using Derivid.Api.Keys;
using Derivid.Api.Operating;
using Derivid.Api.Practice;
using Derivid.Api.Table;
using Derivid.Api.Teaching;
using Derivid.Page.Hosting;

var arguments = ServiceArguments.Parse(args, Console.Out, Console.Error);
if (arguments.ExitCode is { } exitCode)
{
    return exitCode;
}

try
{
    var builder = WebApplication.CreateBuilder(new WebApplicationOptions
    {
        Args = [.. arguments.Settings],
        WebRootPath = PageHosting.FilesBeside,
    });
    builder.AddShippedSettings();
    var asked = new SettingsAsked();
    ((IConfigurationBuilder)builder.Configuration).Add(asked);
    builder.AddPage();
    builder.AddServer();
    builder.AddTelemetry();
    builder.AddTable();
    builder.AddIdentifications();
    builder.AddAccess();
    builder.AddCuration();
    builder.Services.AddCourses();
    builder.Services.AddSingleton<RegisteredThermometers>();
    builder.Services.AddSwagger();

    if (arguments.NameUnknown(asked, Console.Error))
    {
        return ServiceArguments.Mistaken;
    }

    var app = builder.Build();
    if (arguments.Task != ServiceTask.Serve)
    {
        return await app.RunTaskAsync(arguments);
    }

    Arrival.Use(app);
    app.UseRequestLog();
    app.UseFailureCount();
    app.UseTrustedProxies();
    app.UsePageCalls();
    app.UseResponseHeaders();
    app.UseExceptionHandler();
    app.UseStatusCodePages(StatusCodeProblems.WriteAsync);
    app.UseAccess();
    app.UseSwaggerPages();

    app.MapHealth();
    app.MapDocument();
    app.MapPage();

    var api = app.MapGroup("/api/v1").RequireAuthorization(Policies.Reader)
        .AddEndpointFilter<RouteGroupBuilder, StrayKey>()
        .AddEndpointFilter<RouteGroupBuilder, NoQueryFilter>()
        .ProducesProblems(ProblemTypes.Everywhere);
    api.MapIdentifications();
    api.MapIdentificationBatches();
    api.MapRankings();
    api.MapParents();
    api.MapDerivatives();
    api.MapVocabularies();
    api.MapPreparations();
    api.MapDecisions();
    api.MapReadingGuides();
    api.MapTableVersions();
    api.MapTableExports();
    api.MapTableDifferences();
    api.MapCuratorHelp();
    api.MapProposals();
    api.MapProposalRecords();
    api.MapProposalSteps();
    api.MapImports();
    api.MapVerification();
    api.MapLearning();
    api.MapKeys();
    api.MapThermometers();
    api.MapPeople();
    api.MapAudit();
    api.MapTeaching();

    app.AnnounceAddresses();
    await app.RunAsync();
    return Environment.ExitCode;
}
catch (Exception fault) when (ServiceArguments.NameImpossible(fault, Console.Error))
{
    return ServiceArguments.Mistaken;
}
