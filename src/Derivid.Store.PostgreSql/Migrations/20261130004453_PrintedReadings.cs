using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.PostgreSql.Migrations
{
    /// <inheritdoc />
    public partial class PrintedReadings : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "printed_readings",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false),
                    sheet_id = table.Column<string>(type: "text", nullable: false),
                    source_key = table.Column<string>(type: "text", nullable: false),
                    record_key = table.Column<string>(type: "text", nullable: false),
                    locator = table.Column<string>(type: "text", nullable: true),
                    as_printed = table.Column<string>(type: "text", nullable: true),
                    colour_key = table.Column<string>(type: "text", nullable: true),
                    read_by = table.Column<string>(type: "text", nullable: false),
                    read_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    table_version = table.Column<int>(type: "integer", nullable: false),
                    verdict = table.Column<string>(type: "text", nullable: false),
                    proposal_id = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_printed_readings", x => x.id);
                    table.ForeignKey(
                        name: "fk_printed_readings_proposals_proposal_id",
                        column: x => x.proposal_id,
                        principalTable: "proposals",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_printed_readings_table_versions_table_version",
                        column: x => x.table_version,
                        principalTable: "table_versions",
                        principalColumn: "number",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_printed_readings_proposal_id",
                table: "printed_readings",
                column: "proposal_id");

            migrationBuilder.CreateIndex(
                name: "ix_printed_readings_sheet_id",
                table: "printed_readings",
                column: "sheet_id");

            migrationBuilder.CreateIndex(
                name: "ix_printed_readings_source_key_record_key",
                table: "printed_readings",
                columns: new[] { "source_key", "record_key" });

            migrationBuilder.CreateIndex(
                name: "ix_printed_readings_table_version",
                table: "printed_readings",
                column: "table_version");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "printed_readings");
        }
    }
}
