using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.PostgreSql.Migrations
{
    /// <inheritdoc />
    public partial class Thermometers : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "thermometers",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    liquid = table.Column<string>(type: "text", nullable: true),
                    owner = table.Column<string>(type: "text", nullable: false),
                    created_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_thermometers", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "calibrations",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false),
                    thermometer_id = table.Column<string>(type: "text", nullable: false),
                    standards_json = table.Column<string>(type: "text", nullable: false),
                    actor = table.Column<string>(type: "text", nullable: false),
                    melted_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    created_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_calibrations", x => x.id);
                    table.ForeignKey(
                        name: "fk_calibrations_thermometers_thermometer_id",
                        column: x => x.thermometer_id,
                        principalTable: "thermometers",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_calibrations_thermometer_id_melted_at_utc",
                table: "calibrations",
                columns: new[] { "thermometer_id", "melted_at_utc" });

            migrationBuilder.CreateIndex(
                name: "ix_thermometers_owner",
                table: "thermometers",
                column: "owner");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "calibrations");

            migrationBuilder.DropTable(
                name: "thermometers");
        }
    }
}
