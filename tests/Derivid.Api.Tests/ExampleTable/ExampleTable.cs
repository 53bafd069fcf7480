using System.Security.Cryptography;
using System.Text;
using Derivid.Core.Ranking;
using Derivid.Store.Seeding;
using Derivid.Testing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace Derivid.Api.Tests;

/// <summary>The frozen table and model settings that the examples of the published document are made from.</summary>
internal static class ExampleTable
{
    private const string SettingsFile = "model-settings.json";

    /// <summary>The table a new database starts with.</summary>
    public static SeedTable Seed { get; } =
        new(Convert.ToHexStringLower(SHA256.HashData(Bytes(SeedManifest.FileName))), () => SeedTables.Load(Bytes));

    /// <summary>The model's settings.</summary>
    public static ModelSettings Settings { get; } = ModelSettingsReader.Read(new MemoryStream(Bytes(SettingsFile)));

    /// <summary>A service that knows this table and model, and no other.</summary>
    /// <param name="connectionString">Its database.</param>
    /// <param name="settings">The model's settings. Missing: null, those of the examples.</param>
    public static ServiceUnderTest NewService(string connectionString, ModelSettings? settings = null) =>
        new(connectionString, services => services
            .Replace(ServiceDescriptor.Singleton(Seed))
            .Replace(ServiceDescriptor.Singleton(settings ?? Settings)));

    /// <summary>The manifest that the files as they lie there should have.</summary>
    public static string FreshManifest() => new SeedManifest(
        1,
        [
            .. Directory.GetFiles(InFolder(), "*.csv").Select(file => Path.GetFileName(file)!).Order(StringComparer.Ordinal)
                .Select(file => SeedManifest.Describe(file, Bytes(file))),
        ]).ToJson();

    public static string Manifest => Encoding.UTF8.GetString(Bytes(SeedManifest.FileName));

    public static string InFolder(params string[] path) =>
        RepositoryFiles.At(["tests", "Derivid.Api.Tests", nameof(ExampleTable), .. path]);

    private static byte[] Bytes(string file) => File.ReadAllBytes(InFolder(file));
}

/// <summary>A running service on the table of the examples.</summary>
public sealed class ExampleService : RunningService
{
    protected override Task<ITestDatabase> NewDatabaseAsync() => Task.FromResult<ITestDatabase>(new SqliteDatabase());

    protected override ServiceUnderTest NewService(string connectionString) => ExampleTable.NewService(connectionString);
}
