using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.Sqlite.Migrations
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
                    id = table.Column<string>(type: "TEXT", nullable: false),
                    secret_hash = table.Column<byte[]>(type: "BLOB", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    role = table.Column<string>(type: "TEXT", nullable: false),
                    created_at_utc = table.Column<DateTime>(type: "TEXT", nullable: false),
                    created_by = table.Column<string>(type: "TEXT", nullable: false),
                    expires_at_utc = table.Column<DateTime>(type: "TEXT", nullable: true),
                    revoked_at_utc = table.Column<DateTime>(type: "TEXT", nullable: true),
                    last_used_on = table.Column<DateOnly>(type: "TEXT", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_api_keys", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "audit_entries",
                columns: table => new
                {
                    sequence = table.Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    at_utc = table.Column<DateTime>(type: "TEXT", nullable: false),
                    actor = table.Column<string>(type: "TEXT", nullable: false),
                    action = table.Column<string>(type: "TEXT", nullable: false),
                    resource = table.Column<string>(type: "TEXT", nullable: false),
                    reason = table.Column<string>(type: "TEXT", nullable: true),
                    table_version = table.Column<int>(type: "INTEGER", nullable: true),
                    trace_id = table.Column<string>(type: "TEXT", nullable: true)
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

            // There is one writer at a time and the counter rolls back with it, so numbers have no gaps as they are.
            migrationBuilder.Sql(
                """
                CREATE TRIGGER audit_entries_refuse_update BEFORE UPDATE ON audit_entries
                BEGIN SELECT RAISE(ABORT, 'The audit log is append-only.'); END;
                CREATE TRIGGER audit_entries_refuse_delete BEFORE DELETE ON audit_entries
                BEGIN SELECT RAISE(ABORT, 'The audit log is append-only.'); END;
                CREATE TRIGGER audit_entries_refuse_replace BEFORE INSERT ON audit_entries
                WHEN EXISTS (SELECT 1 FROM audit_entries WHERE sequence = NEW.sequence)
                BEGIN SELECT RAISE(ABORT, 'The audit log is append-only.'); END;
                """);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "api_keys");

            migrationBuilder.DropTable(
                name: "audit_entries");
        }
    }
}
