using System.Security.Cryptography;
using Derivid.Testing;

namespace Derivid.Store.Tests;

/// <summary>Migrations are only added: one that was applied somewhere is never applied again, whatever is changed in it.</summary>
public sealed class SealedMigrationsTests
{
    private static readonly string[] Engines = ["Sqlite", "PostgreSql"];

    private static readonly string Seal = RepositoryFiles.At("tests", "Derivid.Store.Tests", "migrations.sha256");

    [Fact]
    public void NoMigrationIsChangedAfterItWasMade()
    {
        var found = Engines
            .SelectMany(engine => Directory.GetFiles(RepositoryFiles.At("src", $"Derivid.Store.{engine}", "Migrations"), "*_*.cs")
                .Select(file => $"{Hash(file)}  {engine}/{Path.GetFileName(file)}"))
            .Order(StringComparer.Ordinal).ToList();
        var kept = File.ReadAllLines(Seal).Order(StringComparer.Ordinal).ToList();

        Assert.True(
            found.SequenceEqual(kept),
            $"Migrations and {Path.GetFileName(Seal)} differ. A changed line is a mistake: make a new migration. Lines of a new one to add:\n"
            + string.Join('\n', found.Except(kept)));
    }

    // Line ends are the checkout's business.
    private static string Hash(string file) =>
        Convert.ToHexStringLower(SHA256.HashData(System.Text.Encoding.UTF8.GetBytes(File.ReadAllText(file).ReplaceLineEndings("\n"))));
}
