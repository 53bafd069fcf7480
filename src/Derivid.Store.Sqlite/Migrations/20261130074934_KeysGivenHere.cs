using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class KeysGivenHere : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<bool>(
                name: "is_given_here",
                table: "course_actors",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            // Keys that courses gave are named after student and course; where the course was renamed since, nothing is revoked.
            migrationBuilder.Sql(
                """
                UPDATE course_actors SET is_given_here = TRUE
                WHERE EXISTS (
                    SELECT 1 FROM api_keys INNER JOIN courses ON courses.id = course_actors.course_id
                    WHERE 'key:' || api_keys.id = course_actors.actor
                    AND api_keys.name = course_actors.student_key || ', ' || courses.name);
                """);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "is_given_here",
                table: "course_actors");
        }
    }
}
