using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class CanExplode : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<bool>(
                name: "can_explode",
                table: "spot_tests",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<bool>(
                name: "can_explode",
                table: "derivative_kinds",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "can_explode",
                table: "spot_tests");

            migrationBuilder.DropColumn(
                name: "can_explode",
                table: "derivative_kinds");
        }
    }
}
