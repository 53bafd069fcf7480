using Derivid.Testing;

namespace Derivid.Api.Tests;

public sealed class SqliteService : RunningService
{
    protected override Task<ITestDatabase> NewDatabaseAsync() => Task.FromResult<ITestDatabase>(new SqliteDatabase());
}
