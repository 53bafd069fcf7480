using Derivid.Testing;

namespace Derivid.Api.Tests.Access;

[Trait("Database", "PostgreSQL")]
public sealed class PostgreSqlKeyTests(PostgreSqlServer server) : KeyTests
{
    protected override async Task<ITestDatabase> NewDatabaseAsync() => await server.NewDatabaseAsync();
}
