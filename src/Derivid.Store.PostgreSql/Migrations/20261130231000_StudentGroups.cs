using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.PostgreSql.Migrations
{
    /// <inheritdoc />
    public partial class StudentGroups : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "ix_assignments_course_id_hand_out_number_code",
                table: "assignments");

            migrationBuilder.AddColumn<string>(
                name: "student_key",
                table: "moderations",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "group_name",
                table: "course_students",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "group_name",
                table: "assignments",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "holder_key",
                table: "assignments",
                type: "text",
                nullable: false,
                defaultValue: "");

            // Until now nobody shared an unknown.
            migrationBuilder.Sql("UPDATE assignments SET holder_key = student_key;");

            migrationBuilder.CreateIndex(
                name: "ix_assignments_course_id_hand_out_number_holder_key_number",
                table: "assignments",
                columns: new[] { "course_id", "hand_out_number", "holder_key", "number" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "ix_assignments_course_id_hand_out_number_holder_key_number",
                table: "assignments");

            migrationBuilder.DropColumn(
                name: "student_key",
                table: "moderations");

            migrationBuilder.DropColumn(
                name: "group_name",
                table: "course_students");

            migrationBuilder.DropColumn(
                name: "group_name",
                table: "assignments");

            migrationBuilder.DropColumn(
                name: "holder_key",
                table: "assignments");

            migrationBuilder.CreateIndex(
                name: "ix_assignments_course_id_hand_out_number_code",
                table: "assignments",
                columns: new[] { "course_id", "hand_out_number", "code" },
                unique: true);
        }
    }
}
