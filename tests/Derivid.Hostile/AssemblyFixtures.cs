using Derivid.Testing;

[assembly: AssemblyFixture(typeof(PostgreSqlServer))]
