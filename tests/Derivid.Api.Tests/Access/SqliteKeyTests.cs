using Derivid.Testing;

namespace Derivid.Api.Tests.Access;

public sealed class SqliteKeyTests : KeyTests
{
    protected override Task<ITestDatabase> NewDatabaseAsync() => Task.FromResult<ITestDatabase>(new SqliteDatabase());
}
