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
        builder.Services.AddSingleton<RunningImports>();
        builder.Services.AddHostedService(services => services.GetRequiredService<RunningImports>());
    }
}
