using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.PostgreSql.Migrations
{
    /// <inheritdoc />
    public partial class Teaching : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "courses",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    table_version = table.Column<int>(type: "integer", nullable: false),
                    shelf_keys = table.Column<string>(type: "text", nullable: false),
                    kind_keys = table.Column<string>(type: "text", nullable: false),
                    spot_test_keys = table.Column<string>(type: "text", nullable: false),
                    takes_boiling_point = table.Column<bool>(type: "boolean", nullable: false),
                    takes_melting_point = table.Column<bool>(type: "boolean", nullable: false),
                    window_celsius = table.Column<double>(type: "double precision", nullable: false),
                    rubric_json = table.Column<string>(type: "text", nullable: false),
                    due_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    closes_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    most_attempts = table.Column<int>(type: "integer", nullable: false),
                    shows_ranking = table.Column<bool>(type: "boolean", nullable: false),
                    is_invented = table.Column<bool>(type: "boolean", nullable: false),
                    issue_number = table.Column<int>(type: "integer", nullable: false),
                    released_grading_id = table.Column<string>(type: "text", nullable: true),
                    revision = table.Column<int>(type: "integer", nullable: false),
                    created_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_courses", x => x.id);
                    table.ForeignKey(
                        name: "fk_courses_table_versions_table_version",
                        column: x => x.table_version,
                        principalTable: "table_versions",
                        principalColumn: "number",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "remembered_requests",
                columns: table => new
                {
                    actor = table.Column<string>(type: "text", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false),
                    request_hash = table.Column<string>(type: "text", nullable: false),
                    resource = table.Column<string>(type: "text", nullable: false),
                    at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_remembered_requests", x => new { x.actor, x.key });
                });

            migrationBuilder.CreateTable(
                name: "course_students",
                columns: table => new
                {
                    course_id = table.Column<string>(type: "text", nullable: false),
                    student_key = table.Column<string>(type: "text", nullable: false),
                    bench = table.Column<string>(type: "text", nullable: true),
                    place = table.Column<int>(type: "integer", nullable: true),
                    neighbours = table.Column<string>(type: "text", nullable: false),
                    actor = table.Column<string>(type: "text", nullable: true),
                    is_enrolled = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_course_students", x => new { x.course_id, x.student_key });
                    table.ForeignKey(
                        name: "fk_course_students_courses_course_id",
                        column: x => x.course_id,
                        principalTable: "courses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "gradings",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false),
                    course_id = table.Column<string>(type: "text", nullable: false),
                    basis = table.Column<string>(type: "text", nullable: false),
                    rubric_json = table.Column<string>(type: "text", nullable: false),
                    table_version = table.Column<int>(type: "integer", nullable: false),
                    model_version = table.Column<string>(type: "text", nullable: false),
                    due_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    total = table.Column<int>(type: "integer", nullable: false),
                    created_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    leased_until_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    finished_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_gradings", x => x.id);
                    table.ForeignKey(
                        name: "fk_gradings_courses_course_id",
                        column: x => x.course_id,
                        principalTable: "courses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "unknown_issues",
                columns: table => new
                {
                    course_id = table.Column<string>(type: "text", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    seed = table.Column<string>(type: "text", nullable: false),
                    table_version = table.Column<int>(type: "integer", nullable: false),
                    model_version = table.Column<string>(type: "text", nullable: false),
                    shelf_keys = table.Column<string>(type: "text", nullable: false),
                    summary_json = table.Column<string>(type: "text", nullable: false),
                    issued_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_unknown_issues", x => new { x.course_id, x.number });
                    table.ForeignKey(
                        name: "fk_unknown_issues_courses_course_id",
                        column: x => x.course_id,
                        principalTable: "courses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "assignments",
                columns: table => new
                {
                    course_id = table.Column<string>(type: "text", nullable: false),
                    issue_number = table.Column<int>(type: "integer", nullable: false),
                    student_key = table.Column<string>(type: "text", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    code = table.Column<string>(type: "text", nullable: false),
                    parent_key = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_assignments", x => new { x.course_id, x.issue_number, x.student_key, x.number });
                    table.ForeignKey(
                        name: "fk_assignments_unknown_issues_course_id_issue_number",
                        columns: x => new { x.course_id, x.issue_number },
                        principalTable: "unknown_issues",
                        principalColumns: new[] { "course_id", "number" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "course_reports",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false),
                    course_id = table.Column<string>(type: "text", nullable: false),
                    issue_number = table.Column<int>(type: "integer", nullable: false),
                    student_key = table.Column<string>(type: "text", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    attempt = table.Column<int>(type: "integer", nullable: false),
                    body_json = table.Column<string>(type: "text", nullable: false),
                    created_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    handed_in_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    revision = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_course_reports", x => x.id);
                    table.ForeignKey(
                        name: "fk_course_reports_assignments_course_id_issue_number_student_k",
                        columns: x => new { x.course_id, x.issue_number, x.student_key, x.number },
                        principalTable: "assignments",
                        principalColumns: new[] { "course_id", "issue_number", "student_key", "number" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "course_grades",
                columns: table => new
                {
                    report_id = table.Column<string>(type: "text", nullable: false),
                    basis = table.Column<string>(type: "text", nullable: false),
                    grade_json = table.Column<string>(type: "text", nullable: false),
                    total = table.Column<double>(type: "double precision", nullable: false),
                    maximum = table.Column<double>(type: "double precision", nullable: false),
                    graded_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_course_grades", x => new { x.report_id, x.basis });
                    table.ForeignKey(
                        name: "fk_course_grades_course_reports_report_id",
                        column: x => x.report_id,
                        principalTable: "course_reports",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "grading_items",
                columns: table => new
                {
                    grading_id = table.Column<string>(type: "text", nullable: false),
                    report_id = table.Column<string>(type: "text", nullable: false),
                    is_done = table.Column<bool>(type: "boolean", nullable: false),
                    problem = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_grading_items", x => new { x.grading_id, x.report_id });
                    table.ForeignKey(
                        name: "fk_grading_items_course_reports_report_id",
                        column: x => x.report_id,
                        principalTable: "course_reports",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_grading_items_gradings_grading_id",
                        column: x => x.grading_id,
                        principalTable: "gradings",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_assignments_course_id_issue_number_code",
                table: "assignments",
                columns: new[] { "course_id", "issue_number", "code" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_course_reports_course_id_issue_number_student_key_number_at",
                table: "course_reports",
                columns: new[] { "course_id", "issue_number", "student_key", "number", "attempt" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_course_students_actor",
                table: "course_students",
                column: "actor");

            migrationBuilder.CreateIndex(
                name: "ix_course_students_course_id_actor",
                table: "course_students",
                columns: new[] { "course_id", "actor" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_courses_table_version",
                table: "courses",
                column: "table_version");

            migrationBuilder.CreateIndex(
                name: "ix_grading_items_report_id",
                table: "grading_items",
                column: "report_id");

            migrationBuilder.CreateIndex(
                name: "ix_gradings_course_id",
                table: "gradings",
                column: "course_id");

            migrationBuilder.CreateIndex(
                name: "ix_gradings_finished_at_utc",
                table: "gradings",
                column: "finished_at_utc");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "course_grades");

            migrationBuilder.DropTable(
                name: "course_students");

            migrationBuilder.DropTable(
                name: "grading_items");

            migrationBuilder.DropTable(
                name: "remembered_requests");

            migrationBuilder.DropTable(
                name: "course_reports");

            migrationBuilder.DropTable(
                name: "gradings");

            migrationBuilder.DropTable(
                name: "assignments");

            migrationBuilder.DropTable(
                name: "unknown_issues");

            migrationBuilder.DropTable(
                name: "courses");
        }
    }
}
