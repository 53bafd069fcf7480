using Derivid.Api.Access;
using Derivid.Api.Operating;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Page.Hosting;
using Derivid.Store;
using Derivid.Store.Databases;
using Derivid.Store.PostgreSql;
using Derivid.Store.Seeding;
using Derivid.Store.Sqlite;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.AspNetCore.Server.Kestrel.Transport.Sockets;
using Microsoft.Extensions.Configuration.Json;

namespace Derivid.Api.Http;

/// <summary>Sets up the server, the store, the table and the page.</summary>
public static partial class ServiceHosting
{
    private const string DefaultAddress = "http://127.0.0.1:5080";

    // Chosen: with headers unfinished each holds some 16 KB, so that all stay far below the memory of a small container.
    private const long MostConnections = 4000;
    private const int HeaderBytes = 16 * 1024;

    // Chosen: some MB a second to a reader 50 ms away.
    private const int SendBufferBytes = 128 * 1024;

    private static readonly TimeSpan LongestHeaders = TimeSpan.FromSeconds(10);

    // Chosen: a body of 64 KB is here within half a minute over any line that people work on, or is given up.
    private static readonly MinDataRate SlowestBody = new(bytesPerSecond: 2000, gracePeriod: TimeSpan.FromSeconds(5));

    // Chosen: what is under way when the service is told to stop is mostly done by then; a body that trickles in is not waited for.
    private static readonly TimeSpan LongestEnd = TimeSpan.FromSeconds(10);

    /// <summary>Reads the settings that lie beside the program, from whatever folder it was started; all others overrule them.</summary>
    /// <remarks>The framework looks in the folder the program works in only, where the data lie too: started elsewhere it would log every address whole.</remarks>
    /// <param name="builder">The application's builder.</param>
    public static void AddShippedSettings(this WebApplicationBuilder builder)
    {
        ArgumentNullException.ThrowIfNull(builder);
        var shipped = new JsonConfigurationSource { Path = Path.Combine(AppContext.BaseDirectory, "appsettings.json"), Optional = true };
        shipped.ResolveFileProvider();
        builder.Configuration.Sources.Insert(0, shipped);
    }

    /// <summary>Sets limits and the default address: loopback only, so that nothing is published by accident.</summary>
    /// <param name="builder">The application's builder.</param>
    public static void AddServer(this WebApplicationBuilder builder)
    {
        ArgumentNullException.ThrowIfNull(builder);
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = RequestLimits.BatchBytes;
            kestrel.Limits.MaxConcurrentConnections ??= MostConnections;
            kestrel.Limits.MaxRequestHeadersTotalSize = HeaderBytes;
            kestrel.Limits.RequestHeadersTimeout = LongestHeaders;
            kestrel.Limits.MinRequestBodyDataRate = SlowestBody;
            kestrel.ConfigureEndpointDefaults(endpoint => endpoint.Use(next => connection => RefusedRequest.AnswerAsync(connection, next)));
        });
        builder.WebHost.UseSockets(sockets => sockets.CreateBoundListenSocket = endpoint =>
        {
            // Taken over by each connection: what a slow reader hasn't read is held by the system too, and it would hold megabytes.
            var socket = SocketTransportOptions.CreateDefaultBoundListenSocket(endpoint);
            socket.SendBufferSize = SendBufferBytes;
            return socket;
        });
        builder.Services.Configure<HostOptions>(options => options.ShutdownTimeout = LongestEnd);
        var settings = builder.Configuration;
        var isAddressSet = settings["urls"] is not null || settings["http_ports"] is not null
            || settings.GetSection("Kestrel:Endpoints").Exists();
        if (!isAddressSet)
        {
            builder.WebHost.UseUrls(DefaultAddress);
        }

        builder.Services.ConfigureHttpJsonOptions(options => WireJson.Configured(options.SerializerOptions));
        builder.Services.AddSingleton<OutageLog>();
        builder.Services.AddExceptionHandler<UnhandledErrors>();
        builder.Services.AddProblemDetails();
    }

    /// <summary>Chooses the database, and keeps the table of its current version in memory.</summary>
    /// <param name="builder">The application's builder.</param>
    /// <exception cref="SettingException">The database settings are contradictory.</exception>
    public static void AddTable(this WebApplicationBuilder builder)
    {
        ArgumentNullException.ThrowIfNull(builder);
        var settings = builder.Configuration;
        var dataFolder = Path.Combine(
            builder.Environment.ContentRootPath, settings["Derivid:DataFolder"] ?? "data");
        var database = DatabaseOptions.Choose(
            settings["Database:Engine"], settings.GetConnectionString("Derivid"), dataFolder);
        builder.Services.AddDerividStore(database.Engine switch
        {
            DatabaseEngineName.PostgreSql => new PostgreSqlEngine(database.ConnectionString),
            DatabaseEngineName.Sqlite => new SqliteEngine(database.ConnectionString),
        });
        builder.Services.AddSingleton(SeedTable.BuiltIn());
        builder.Services.AddSingleton(_ => ModelSettingsReader.BuiltIn());
        builder.Services.AddSingleton<TableSnapshots>();
        builder.Services.AddSingleton(TableWatchSettings.Read(settings));
        builder.Services.AddSingleton<TableWatch>();
        builder.Services.AddHostedService(services => services.GetRequiredService<TableWatch>());
        builder.Services.AddHostedService<ReleaseListener>();
    }

    /// <summary>Adds the page; before anything else that answers errors, so that a reader gets a page and not a document.</summary>
    /// <param name="builder">The application's builder.</param>
    public static void AddPage(this WebApplicationBuilder builder)
    {
        ArgumentNullException.ThrowIfNull(builder);
        // Finds the page's files also when the service runs from its build output.
        builder.WebHost.UseStaticWebAssets();
        // In development the framework would add a catch-all route for files made later; it turns every 405 into a 404.
        builder.Configuration["ReloadStaticAssetsAtRuntime"] = "false";
        builder.Services.AddPage(builder.Configuration);
        builder.AddProtection();
    }

    /// <summary>Tells browsers to take the media type as it is said.</summary>
    /// <param name="app">The application.</param>
    public static void UseResponseHeaders(this WebApplication app) => app.Use((context, next) =>
    {
        context.Response.Headers.XContentTypeOptions = "nosniff";
        return next(context);
    });

    /// <summary>Prints each address with its page of the interface, once the service listens.</summary>
    /// <param name="app">The application.</param>
    public static void AnnounceAddresses(this WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
        app.Lifetime.ApplicationStarted.Register(() =>
        {
            foreach (var address in app.Urls)
            {
                Answers(app.Logger, address);
            }
        });
    }

    [LoggerMessage(LogLevel.Information, "Derivid answers at {Address} and describes its interface at {Address}/swagger.")]
    private static partial void Answers(ILogger log, string address);
}
