using Derivid.Api.Access;
using Derivid.Api.Curation;
using Derivid.Api.Http;
using Derivid.Api.Identifications;
using Derivid.Api.Operating;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.Configuration;

namespace Derivid.Api.Tests.Deployment;

/// <summary>Which of the settings that a deployment file gives the service looks at.</summary>
internal static class SettingsAskedFor
{
    // Read by the database provider and not by the service; see "Password" in Npgsql's documentation.
    private static readonly string[] OfTheProvider = ["PGPASSWORD"];

    // Bound by the framework's logging.
    private const string Logging = "Logging__";

    /// <summary>Sets the service up with environment variables as a deployment file gives them; a value it refuses throws.</summary>
    /// <param name="variables">The variables.</param>
    /// <returns>The names of those that it never looks at.</returns>
    public static IEnumerable<string> Ignored(IReadOnlyDictionary<string, string> variables)
    {
        var asked = new SettingsAsked();
        var builder = WebApplication.CreateBuilder();
        builder.Configuration.AddInMemoryCollection(variables.Select(v => KeyValuePair.Create(Key(v.Key), (string?)v.Value)));
        ((IConfigurationBuilder)builder.Configuration).Add(asked);
        builder.AddServer();
        builder.AddTelemetry();
        builder.AddTable();
        builder.AddIdentifications();
        builder.AddAccess();
        builder.AddCuration();
        return variables.Keys.Except(OfTheProvider)
            .Where(name => !asked.Contains(Key(name)) && !name.StartsWith(Logging, StringComparison.Ordinal));
    }

    private static string Key(string variable) => variable.Replace("__", ":", StringComparison.Ordinal);
}
