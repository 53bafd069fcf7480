using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.PostgreSql.Migrations
{
    /// <inheritdoc />
    public partial class FairRules : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<bool>(
                name: "counts_best",
                table: "gradings",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<string>(
                name: "extensions_json",
                table: "gradings",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "grace_minutes",
                table: "gradings",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<bool>(
                name: "counts_best",
                table: "courses",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<int>(
                name: "grace_minutes",
                table: "courses",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<DateTime>(
                name: "due_at_utc",
                table: "course_students",
                type: "timestamp with time zone",
                nullable: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "counts_best",
                table: "gradings");

            migrationBuilder.DropColumn(
                name: "extensions_json",
                table: "gradings");

            migrationBuilder.DropColumn(
                name: "grace_minutes",
                table: "gradings");

            migrationBuilder.DropColumn(
                name: "counts_best",
                table: "courses");

            migrationBuilder.DropColumn(
                name: "grace_minutes",
                table: "courses");

            migrationBuilder.DropColumn(
                name: "due_at_utc",
                table: "course_students");
        }
    }
}
