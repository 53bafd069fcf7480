using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.PostgreSql.Migrations
{
    /// <inheritdoc />
    public partial class ModerationGradings : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "grading_id",
                table: "moderations",
                type: "text",
                nullable: false,
                defaultValue: "");

            // What was changed before holds in every grading of its course, so in the first and those after it.
            migrationBuilder.Sql(
                "UPDATE moderations SET grading_id = (SELECT min(id) FROM gradings WHERE gradings.course_id = moderations.course_id);");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "grading_id",
                table: "moderations");
        }
    }
}
