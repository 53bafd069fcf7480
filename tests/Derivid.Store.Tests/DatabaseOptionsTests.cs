using Derivid.Store.Databases;
using Derivid.Store.PostgreSql;
using Derivid.Store.Sqlite;

namespace Derivid.Store.Tests;

public sealed class DatabaseOptionsTests
{
    [Theory]
    [InlineData(null, null)]
    [InlineData("", " ")]
    public void WithoutSettingsAnSqliteFileLiesInTheDataFolder(string? engine, string? connectionString)
    {
        var options = DatabaseOptions.Choose(engine, connectionString, "/some/data; folder");

        Assert.Equal(DatabaseEngineName.Sqlite, options.Engine);
        Assert.Equal("/some/data; folder/derivid.db", new SqliteEngine(options.ConnectionString).Place);
    }

    [Theory]
    [InlineData(null, "Host=db;Database=derivid", DatabaseEngineName.PostgreSql)]
    [InlineData(null, "server=db", DatabaseEngineName.PostgreSql)]
    [InlineData("PostgreSql", "Host=db", DatabaseEngineName.PostgreSql)]
    [InlineData("postgresql", "Host=db", DatabaseEngineName.PostgreSql)]
    [InlineData(null, "Data Source=a.db", DatabaseEngineName.Sqlite)]
    [InlineData(" SQLite ", "Data Source=a.db", DatabaseEngineName.Sqlite)]
    public void EngineIsNamedOrToldFromTheConnectionString(string? engine, string connectionString, DatabaseEngineName expected)
    {
        Assert.Equal(new DatabaseOptions(expected, connectionString), DatabaseOptions.Choose(engine, connectionString, "data"));
    }

    [Theory]
    [InlineData("PostgreSql", null, "ConnectionStrings:Derivid is empty")]
    [InlineData("Sqlite", "", "ConnectionStrings:Derivid is empty")]
    [InlineData("Oracle", "Host=db", "allowed are Sqlite and PostgreSql")]
    [InlineData("1", "Host=db", "allowed are Sqlite and PostgreSql")]
    [InlineData(null, "Password=secret", "neither Host")]
    [InlineData(null, "secret", "Keyword=value pairs")]
    public void ContradictionStopsTheStart(string? engine, string? connectionString, string reason)
    {
        var refusal = Assert.Throws<SettingException>(() => DatabaseOptions.Choose(engine, connectionString, "data"));

        Assert.Contains(reason, refusal.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("secret", refusal.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void ConnectionStringOfTheOtherEngineStopsTheStart()
    {
        var sqlite = Assert.Throws<SettingException>(() => new SqliteEngine("Host=db;Password=secret"));
        var postgres = Assert.Throws<SettingException>(() => new PostgreSqlEngine("Data Source=secret;Colour=red"));

        Assert.DoesNotContain("secret", sqlite.ToString() + postgres, StringComparison.Ordinal);
    }

    [Fact]
    public void PasswordIsNotPrinted()
    {
        Assert.DoesNotContain(
            "secret", new DatabaseOptions(DatabaseEngineName.PostgreSql, "Host=db;Password=secret").ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void BothEnginesHaveTheSameMigrations()
    {
        Assert.Equal(MigrationsOf(new SqliteContextFactory().CreateDbContext([])), MigrationsOf(new PostgreSqlContextFactory().CreateDbContext([])));

        static IEnumerable<string> MigrationsOf(DerividContext context)
        {
            using (context)
            {
                return Microsoft.EntityFrameworkCore.RelationalDatabaseFacadeExtensions.GetMigrations(context.Database).ToList();
            }
        }
    }
}
