using Derivid.Testing;

namespace Derivid.Api.Tests;

public sealed class PostgreSqlService(PostgreSqlServer server) : RunningService
{
    protected override async Task<ITestDatabase> NewDatabaseAsync() => await server.NewDatabaseAsync();
}
