using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class AnonymousMarking : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<bool>(
                name: "is_marked_anonymously",
                table: "courses",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "is_marked_anonymously",
                table: "courses");
        }
    }
}
