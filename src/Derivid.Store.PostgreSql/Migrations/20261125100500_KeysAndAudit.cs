using System;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace Derivid.Store.PostgreSql.Migrations
{
    /// <inheritdoc />
    public partial class KeysAndAudit : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "api_keys",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false),
                    secret_hash = table.Column<byte[]>(type: "bytea", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    role = table.Column<string>(type: "text", nullable: false),
                    created_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    created_by = table.Column<string>(type: "text", nullable: false),
                    expires_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    revoked_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    last_used_on = table.Column<DateOnly>(type: "date", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_api_keys", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "audit_entries",
                columns: table => new
                {
                    sequence = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    actor = table.Column<string>(type: "text", nullable: false),
                    action = table.Column<string>(type: "text", nullable: false),
                    resource = table.Column<string>(type: "text", nullable: false),
                    reason = table.Column<string>(type: "text", nullable: true),
                    table_version = table.Column<int>(type: "integer", nullable: true),
                    trace_id = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_audit_entries", x => x.sequence);
                });

            migrationBuilder.CreateIndex(
                name: "ix_audit_entries_action_sequence",
                table: "audit_entries",
                columns: new[] { "action", "sequence" });

            migrationBuilder.CreateIndex(
                name: "ix_audit_entries_actor_sequence",
                table: "audit_entries",
                columns: new[] { "actor", "sequence" });

            migrationBuilder.CreateIndex(
                name: "ix_audit_entries_resource_sequence",
                table: "audit_entries",
                columns: new[] { "resource", "sequence" });

            // Numbered under a lock that lasts until the commit, so numbers have no gaps, and no entry becomes visible
            // after one of a higher number was read. The lock's number is "AUDIT" in ASCII.
            migrationBuilder.Sql(
                """
                CREATE FUNCTION audit_entries_number() RETURNS trigger LANGUAGE plpgsql AS $$
                BEGIN
                    PERFORM pg_advisory_xact_lock(x'4155444954'::bigint);
                    NEW.sequence := (SELECT coalesce(max(sequence), 0) + 1 FROM audit_entries);
                    RETURN NEW;
                END $$;
                CREATE TRIGGER audit_entries_number BEFORE INSERT ON audit_entries
                    FOR EACH ROW EXECUTE FUNCTION audit_entries_number();
                CREATE FUNCTION audit_entries_refuse() RETURNS trigger LANGUAGE plpgsql AS $$
                BEGIN
                    RAISE EXCEPTION 'The audit log is append-only.';
                END $$;
                CREATE TRIGGER audit_entries_refuse BEFORE UPDATE OR DELETE OR TRUNCATE ON audit_entries
                    FOR EACH STATEMENT EXECUTE FUNCTION audit_entries_refuse();
                """);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "api_keys");

            migrationBuilder.DropTable(
                name: "audit_entries");

            migrationBuilder.Sql("DROP FUNCTION audit_entries_number; DROP FUNCTION audit_entries_refuse;");
        }
    }
}
