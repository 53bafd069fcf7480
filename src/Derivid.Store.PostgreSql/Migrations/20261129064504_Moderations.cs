using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.PostgreSql.Migrations
{
    /// <inheritdoc />
    public partial class Moderations : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "moderations",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false),
                    course_id = table.Column<string>(type: "text", nullable: false),
                    report_id = table.Column<string>(type: "text", nullable: false),
                    criterion = table.Column<string>(type: "text", nullable: true),
                    points = table.Column<double>(type: "double precision", nullable: true),
                    reason = table.Column<string>(type: "text", nullable: true),
                    computed = table.Column<double>(type: "double precision", nullable: true),
                    actor = table.Column<string>(type: "text", nullable: false),
                    at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_moderations", x => x.id);
                    table.ForeignKey(
                        name: "fk_moderations_course_reports_report_id",
                        column: x => x.report_id,
                        principalTable: "course_reports",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_moderations_courses_course_id",
                        column: x => x.course_id,
                        principalTable: "courses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_moderations_course_id_id",
                table: "moderations",
                columns: new[] { "course_id", "id" });

            migrationBuilder.CreateIndex(
                name: "ix_moderations_report_id",
                table: "moderations",
                column: "report_id");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "moderations");
        }
    }
}
