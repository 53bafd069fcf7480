using Derivid.Page.Tests;
using Derivid.Testing;

[assembly: AssemblyFixture(typeof(PostgreSqlServer))]
[assembly: AssemblyFixture(typeof(BrowserFixture))]
