using Derivid.Api.Access;
using Derivid.Api.Curation;
using Derivid.Api.Http;
using Derivid.Api.Identifications;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.Configuration;

namespace Derivid.Api.Tests.Deployment;

/// <summary>Takes down which settings the service asks for, so that nobody keeps a list of them by hand.</summary>
internal sealed class SettingsAskedFor : ConfigurationProvider, IConfigurationSource
{
    // Read by the database provider and not by the service; see "Password" in Npgsql's documentation.
    private static readonly string[] OfTheProvider = ["PGPASSWORD"];

    private readonly HashSet<string> _keys = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Sets the service up with environment variables as a deployment file gives them; a value it refuses throws.</summary>
    /// <param name="variables">The variables.</param>
    /// <returns>The names of those that it never looks at.</returns>
    public static IEnumerable<string> Ignored(IReadOnlyDictionary<string, string> variables)
    {
        var asked = new SettingsAskedFor();
        var builder = WebApplication.CreateBuilder();
        builder.Configuration.AddInMemoryCollection(variables.Select(v => KeyValuePair.Create(Key(v.Key), (string?)v.Value)));
        ((IConfigurationBuilder)builder.Configuration).Add(asked);
        builder.AddServer();
        builder.AddTable();
        builder.AddIdentifications();
        builder.AddAccess();
        builder.AddCuration();
        return variables.Keys.Except(OfTheProvider).Where(name => !asked._keys.Contains(Key(name)));
    }

    /// <inheritdoc/>
    public override bool TryGet(string key, out string? value)
    {
        _keys.Add(key);
        value = null;
        return false;
    }

    /// <inheritdoc/>
    public IConfigurationProvider Build(IConfigurationBuilder builder) => this;

    private static string Key(string variable) => variable.Replace("__", ":", StringComparison.Ordinal);
}
