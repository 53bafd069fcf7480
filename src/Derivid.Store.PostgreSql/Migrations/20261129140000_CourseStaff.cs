using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.PostgreSql.Migrations
{
    /// <inheritdoc />
    public partial class CourseStaff : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "course_staff",
                columns: table => new
                {
                    course_id = table.Column<string>(type: "text", nullable: false),
                    actor = table.Column<string>(type: "text", nullable: false),
                    is_owner = table.Column<bool>(type: "boolean", nullable: false),
                    is_serving = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_course_staff", x => new { x.course_id, x.actor });
                    table.ForeignKey(
                        name: "fk_course_staff_courses_course_id",
                        column: x => x.course_id,
                        principalTable: "courses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_course_staff_actor",
                table: "course_staff",
                column: "actor");

            // Who made a course before owns it, as the audit log has it; of one without an owner an administrator names them.
            migrationBuilder.Sql(
                """
                INSERT INTO course_staff (course_id, actor, is_owner, is_serving)
                SELECT courses.id, audit_entries.actor, TRUE, TRUE
                FROM courses INNER JOIN audit_entries
                ON audit_entries.action = 'course.create' AND audit_entries.resource = 'courses/' || courses.id;
                """);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "course_staff");
        }
    }
}
