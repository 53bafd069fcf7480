using Derivid.Api.Tests;
using Derivid.Testing;

[assembly: AssemblyFixture(typeof(PostgreSqlServer))]
[assembly: AssemblyFixture(typeof(SqliteService))]
