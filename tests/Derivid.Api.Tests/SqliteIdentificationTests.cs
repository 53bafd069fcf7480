namespace Derivid.Api.Tests;

public sealed class SqliteIdentificationTests(SqliteService service) : IdentificationTests(service);
