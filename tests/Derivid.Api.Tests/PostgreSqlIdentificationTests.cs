namespace Derivid.Api.Tests;

public sealed class PostgreSqlIdentificationTests(PostgreSqlService service)
    : IdentificationTests(service), IClassFixture<PostgreSqlService>;
