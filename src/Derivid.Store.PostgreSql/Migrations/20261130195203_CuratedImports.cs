using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.PostgreSql.Migrations
{
    /// <inheritdoc />
    public partial class CuratedImports : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<string>(
                name: "occasion",
                table: "proposal_comments",
                type: "text",
                nullable: true);

            migrationBuilder.AlterColumn<string>(
                name: "cas_number",
                table: "parents",
                type: "text",
                nullable: true,
                oldClrType: typeof(string),
                oldType: "text");

            migrationBuilder.AddColumn<int>(
                name: "determinations",
                table: "parent_constants",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "instrument",
                table: "parent_constants",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<double>(
                name: "mean",
                table: "parent_constants",
                type: "double precision",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "measured_by",
                table: "parent_constants",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<double>(
                name: "spread",
                table: "parent_constants",
                type: "double precision",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "rows_at_fault",
                table: "import_jobs",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<string>(
                name: "table_name",
                table: "import_faults",
                type: "text",
                nullable: true);

            migrationBuilder.AlterColumn<string>(
                name: "as_printed",
                table: "derivatives",
                type: "text",
                nullable: true,
                oldClrType: typeof(string),
                oldType: "text");

            migrationBuilder.AddColumn<int>(
                name: "determinations",
                table: "derivatives",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "instrument",
                table: "derivatives",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<double>(
                name: "mean_celsius",
                table: "derivatives",
                type: "double precision",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "measured_by",
                table: "derivatives",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<double>(
                name: "spread_celsius",
                table: "derivatives",
                type: "double precision",
                nullable: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "occasion",
                table: "proposal_comments");

            migrationBuilder.DropColumn(
                name: "determinations",
                table: "parent_constants");

            migrationBuilder.DropColumn(
                name: "instrument",
                table: "parent_constants");

            migrationBuilder.DropColumn(
                name: "mean",
                table: "parent_constants");

            migrationBuilder.DropColumn(
                name: "measured_by",
                table: "parent_constants");

            migrationBuilder.DropColumn(
                name: "spread",
                table: "parent_constants");

            migrationBuilder.DropColumn(
                name: "rows_at_fault",
                table: "import_jobs");

            migrationBuilder.DropColumn(
                name: "table_name",
                table: "import_faults");

            migrationBuilder.DropColumn(
                name: "determinations",
                table: "derivatives");

            migrationBuilder.DropColumn(
                name: "instrument",
                table: "derivatives");

            migrationBuilder.DropColumn(
                name: "mean_celsius",
                table: "derivatives");

            migrationBuilder.DropColumn(
                name: "measured_by",
                table: "derivatives");

            migrationBuilder.DropColumn(
                name: "spread_celsius",
                table: "derivatives");

            migrationBuilder.AlterColumn<string>(
                name: "cas_number",
                table: "parents",
                type: "text",
                nullable: false,
                defaultValue: "",
                oldClrType: typeof(string),
                oldType: "text",
                oldNullable: true);

            migrationBuilder.AlterColumn<string>(
                name: "as_printed",
                table: "derivatives",
                type: "text",
                nullable: false,
                defaultValue: "",
                oldClrType: typeof(string),
                oldType: "text",
                oldNullable: true);
        }
    }
}
