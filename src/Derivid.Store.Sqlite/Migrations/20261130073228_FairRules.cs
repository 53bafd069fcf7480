using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.Sqlite.Migrations
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
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<string>(
                name: "extensions_json",
                table: "gradings",
                type: "TEXT",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "grace_minutes",
                table: "gradings",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<bool>(
                name: "counts_best",
                table: "courses",
                type: "INTEGER",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<int>(
                name: "grace_minutes",
                table: "courses",
                type: "INTEGER",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<DateTime>(
                name: "due_at_utc",
                table: "course_students",
                type: "TEXT",
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
