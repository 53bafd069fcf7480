using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class CourseActors : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "course_actors",
                columns: table => new
                {
                    course_id = table.Column<string>(type: "TEXT", nullable: false),
                    student_key = table.Column<string>(type: "TEXT", nullable: false),
                    actor = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_course_actors", x => new { x.actor, x.course_id, x.student_key });
                    table.ForeignKey(
                        name: "fk_course_actors_course_students_course_id_student_key",
                        columns: x => new { x.course_id, x.student_key },
                        principalTable: "course_students",
                        principalColumns: new[] { "course_id", "student_key" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_course_actors_course_id_student_key",
                table: "course_actors",
                columns: new[] { "course_id", "student_key" });

            // Whom rosters name now; whom they named before is known no more.
            migrationBuilder.Sql(
                """
                INSERT INTO course_actors (actor, course_id, student_key)
                SELECT actor, course_id, student_key FROM course_students WHERE actor IS NOT NULL;
                """);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "course_actors");
        }
    }
}
