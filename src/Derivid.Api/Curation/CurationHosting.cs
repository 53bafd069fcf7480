using Derivid.Api.Curation.Imports;

namespace Derivid.Api.Curation;

/// <summary>Sets up curation.</summary>
public static class CurationHosting
{
    /// <summary>Adds what curation needs beside the store.</summary>
    /// <param name="builder">The application's builder.</param>
    public static void AddCuration(this WebApplicationBuilder builder)
    {
        ArgumentNullException.ThrowIfNull(builder);
        builder.Services.AddSingleton(CurationSettings.Read(builder.Configuration));
        builder.Services.AddSingleton<TableChecks>();
        builder.Services.AddSingleton<ProposedTables>();
        builder.Services.AddSingleton<ClassTeaching>();
        builder.Services.AddSingleton<RunningImports>();
        builder.Services.AddHostedService(services => services.GetRequiredService<RunningImports>());
    }
}

/// <summary>How the table is curated here.</summary>
/// <param name="SingleCurator">Whether an author may review and release their own proposals, for want of a second person.</param>
public sealed record CurationSettings(bool SingleCurator)
{
    /// <summary>Reads the setting <c>Curation:SingleCurator</c> (default false).</summary>
    /// <param name="settings">All settings.</param>
    public static CurationSettings Read(IConfiguration settings) =>
        new(settings.GetValue("Curation:SingleCurator", false));
}
