using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class CompressedAnswers : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<byte[]>(
                name: "result_brotli",
                table: "identifications",
                type: "BLOB",
                nullable: true);

            migrationBuilder.CreateIndex(
                name: "ix_identifications_created_at_utc",
                table: "identifications",
                column: "created_at_utc");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "ix_identifications_created_at_utc",
                table: "identifications");

            migrationBuilder.DropColumn(
                name: "result_brotli",
                table: "identifications");
        }
    }
}
