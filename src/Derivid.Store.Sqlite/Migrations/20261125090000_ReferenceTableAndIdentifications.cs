using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Derivid.Store.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class ReferenceTableAndIdentifications : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "colour_expectations",
                columns: table => new
                {
                    kind_key = table.Column<string>(type: "TEXT", nullable: false),
                    order = table.Column<int>(type: "INTEGER", nullable: false),
                    from_version = table.Column<int>(type: "INTEGER", nullable: false),
                    structure_class = table.Column<string>(type: "TEXT", nullable: false),
                    weights = table.Column<string>(type: "TEXT", nullable: false),
                    source_key = table.Column<string>(type: "TEXT", nullable: false),
                    is_assumed = table.Column<bool>(type: "INTEGER", nullable: false),
                    note = table.Column<string>(type: "TEXT", nullable: true),
                    to_version = table.Column<int>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_colour_expectations", x => new { x.kind_key, x.order, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "colours",
                columns: table => new
                {
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    from_version = table.Column<int>(type: "INTEGER", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    rank = table.Column<int>(type: "INTEGER", nullable: false),
                    synonyms = table.Column<string>(type: "TEXT", nullable: false),
                    to_version = table.Column<int>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_colours", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "derivative_kinds",
                columns: table => new
                {
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    from_version = table.Column<int>(type: "INTEGER", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    synonyms = table.Column<string>(type: "TEXT", nullable: false),
                    reagent_name = table.Column<string>(type: "TEXT", nullable: false),
                    reagent_smiles = table.Column<string>(type: "TEXT", nullable: false),
                    reagent_formula = table.Column<string>(type: "TEXT", nullable: false),
                    reagent_molar_mass = table.Column<double>(type: "REAL", nullable: false),
                    reagents_per_carbonyl = table.Column<int>(type: "INTEGER", nullable: false),
                    waters_per_carbonyl = table.Column<int>(type: "INTEGER", nullable: false),
                    applies_to = table.Column<string>(type: "TEXT", nullable: false),
                    reagent_melting_celsius = table.Column<double>(type: "REAL", nullable: true),
                    colour_informs = table.Column<bool>(type: "INTEGER", nullable: false),
                    recrystallisation_solvents = table.Column<string>(type: "TEXT", nullable: false),
                    usual_low_celsius = table.Column<double>(type: "REAL", nullable: false),
                    usual_high_celsius = table.Column<double>(type: "REAL", nullable: false),
                    minutes = table.Column<double>(type: "REAL", nullable: false),
                    hazard = table.Column<string>(type: "TEXT", nullable: false),
                    cautions = table.Column<string>(type: "TEXT", nullable: false),
                    source_key = table.Column<string>(type: "TEXT", nullable: false),
                    to_version = table.Column<int>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_derivative_kinds", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "derivatives",
                columns: table => new
                {
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    from_version = table.Column<int>(type: "INTEGER", nullable: false),
                    parent_key = table.Column<string>(type: "TEXT", nullable: false),
                    kind_key = table.Column<string>(type: "TEXT", nullable: false),
                    carbonyls_condensed = table.Column<int>(type: "INTEGER", nullable: false),
                    form = table.Column<string>(type: "TEXT", nullable: true),
                    low_celsius = table.Column<double>(type: "REAL", nullable: false),
                    high_celsius = table.Column<double>(type: "REAL", nullable: false),
                    decomposes = table.Column<bool>(type: "INTEGER", nullable: false),
                    colour_key = table.Column<string>(type: "TEXT", nullable: true),
                    source_key = table.Column<string>(type: "TEXT", nullable: false),
                    locator = table.Column<string>(type: "TEXT", nullable: true),
                    as_printed = table.Column<string>(type: "TEXT", nullable: false),
                    corrected = table.Column<bool>(type: "INTEGER", nullable: true),
                    verification = table.Column<string>(type: "TEXT", nullable: false),
                    note = table.Column<string>(type: "TEXT", nullable: true),
                    to_version = table.Column<int>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_derivatives", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "melting_point_standards",
                columns: table => new
                {
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    from_version = table.Column<int>(type: "INTEGER", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    cas_number = table.Column<string>(type: "TEXT", nullable: false),
                    clear_point_celsius = table.Column<double>(type: "REAL", nullable: false),
                    source_key = table.Column<string>(type: "TEXT", nullable: false),
                    verification = table.Column<string>(type: "TEXT", nullable: false),
                    note = table.Column<string>(type: "TEXT", nullable: true),
                    to_version = table.Column<int>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_melting_point_standards", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "parent_constants",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    parent_key = table.Column<string>(type: "TEXT", nullable: false),
                    property = table.Column<string>(type: "TEXT", nullable: false),
                    low = table.Column<double>(type: "REAL", nullable: false),
                    high = table.Column<double>(type: "REAL", nullable: false),
                    pressure_kilopascals = table.Column<double>(type: "REAL", nullable: true),
                    source_key = table.Column<string>(type: "TEXT", nullable: false),
                    locator = table.Column<string>(type: "TEXT", nullable: true),
                    verification = table.Column<string>(type: "TEXT", nullable: false),
                    note = table.Column<string>(type: "TEXT", nullable: true),
                    from_version = table.Column<int>(type: "INTEGER", nullable: false),
                    to_version = table.Column<int>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_parent_constants", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "parents",
                columns: table => new
                {
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    from_version = table.Column<int>(type: "INTEGER", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    synonyms = table.Column<string>(type: "TEXT", nullable: false),
                    cas_number = table.Column<string>(type: "TEXT", nullable: false),
                    smiles = table.Column<string>(type: "TEXT", nullable: false),
                    formula = table.Column<string>(type: "TEXT", nullable: false),
                    molar_mass = table.Column<double>(type: "REAL", nullable: false),
                    kind = table.Column<string>(type: "TEXT", nullable: false),
                    hazards = table.Column<string>(type: "TEXT", nullable: true),
                    note = table.Column<string>(type: "TEXT", nullable: true),
                    to_version = table.Column<int>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_parents", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "sources",
                columns: table => new
                {
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    from_version = table.Column<int>(type: "INTEGER", nullable: false),
                    citation = table.Column<string>(type: "TEXT", nullable: false),
                    address = table.Column<string>(type: "TEXT", nullable: true),
                    grade = table.Column<string>(type: "TEXT", nullable: false),
                    family = table.Column<string>(type: "TEXT", nullable: false),
                    how_read = table.Column<string>(type: "TEXT", nullable: false),
                    to_version = table.Column<int>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_sources", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "spot_test_questions",
                columns: table => new
                {
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    from_version = table.Column<int>(type: "INTEGER", nullable: false),
                    text = table.Column<string>(type: "TEXT", nullable: false),
                    contrary_rate = table.Column<double>(type: "REAL", nullable: false),
                    is_assumed = table.Column<bool>(type: "INTEGER", nullable: false),
                    source_key = table.Column<string>(type: "TEXT", nullable: false),
                    to_version = table.Column<int>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_spot_test_questions", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "spot_test_responses",
                columns: table => new
                {
                    test_key = table.Column<string>(type: "TEXT", nullable: false),
                    order = table.Column<int>(type: "INTEGER", nullable: false),
                    from_version = table.Column<int>(type: "INTEGER", nullable: false),
                    applies_to = table.Column<string>(type: "TEXT", nullable: false),
                    positive_rate = table.Column<double>(type: "REAL", nullable: false),
                    answers_yes = table.Column<bool>(type: "INTEGER", nullable: false),
                    is_assumed = table.Column<bool>(type: "INTEGER", nullable: false),
                    source_key = table.Column<string>(type: "TEXT", nullable: false),
                    note = table.Column<string>(type: "TEXT", nullable: true),
                    to_version = table.Column<int>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_spot_test_responses", x => new { x.test_key, x.order, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "spot_tests",
                columns: table => new
                {
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    from_version = table.Column<int>(type: "INTEGER", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    synonyms = table.Column<string>(type: "TEXT", nullable: false),
                    question_key = table.Column<string>(type: "TEXT", nullable: false),
                    positive_looks_like = table.Column<string>(type: "TEXT", nullable: false),
                    read_within_minutes = table.Column<double>(type: "REAL", nullable: false),
                    minutes = table.Column<double>(type: "REAL", nullable: false),
                    hazard = table.Column<string>(type: "TEXT", nullable: false),
                    cautions = table.Column<string>(type: "TEXT", nullable: false),
                    positive_rate_if_yes = table.Column<double>(type: "REAL", nullable: false),
                    positive_rate_if_no = table.Column<double>(type: "REAL", nullable: false),
                    known_exceptions = table.Column<string>(type: "TEXT", nullable: true),
                    source_key = table.Column<string>(type: "TEXT", nullable: false),
                    to_version = table.Column<int>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_spot_tests", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "table_versions",
                columns: table => new
                {
                    number = table.Column<int>(type: "INTEGER", nullable: false),
                    released_at_utc = table.Column<DateTime>(type: "TEXT", nullable: false),
                    note = table.Column<string>(type: "TEXT", nullable: false),
                    content_hash = table.Column<string>(type: "TEXT", nullable: false),
                    seed_hash = table.Column<string>(type: "TEXT", nullable: true),
                    source_count = table.Column<int>(type: "INTEGER", nullable: false),
                    parent_count = table.Column<int>(type: "INTEGER", nullable: false),
                    derivative_kind_count = table.Column<int>(type: "INTEGER", nullable: false),
                    derivative_count = table.Column<int>(type: "INTEGER", nullable: false),
                    spot_test_count = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_table_versions", x => x.number);
                });

            migrationBuilder.CreateTable(
                name: "identifications",
                columns: table => new
                {
                    id = table.Column<string>(type: "TEXT", nullable: false),
                    table_version = table.Column<int>(type: "INTEGER", nullable: false),
                    model_version = table.Column<string>(type: "TEXT", nullable: false),
                    observation_json = table.Column<string>(type: "TEXT", nullable: false),
                    result_json = table.Column<string>(type: "TEXT", nullable: false),
                    created_at_utc = table.Column<DateTime>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_identifications", x => x.id);
                    table.ForeignKey(
                        name: "fk_identifications_table_versions_table_version",
                        column: x => x.table_version,
                        principalTable: "table_versions",
                        principalColumn: "number",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_identifications_table_version",
                table: "identifications",
                column: "table_version");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "colour_expectations");

            migrationBuilder.DropTable(
                name: "colours");

            migrationBuilder.DropTable(
                name: "derivative_kinds");

            migrationBuilder.DropTable(
                name: "derivatives");

            migrationBuilder.DropTable(
                name: "identifications");

            migrationBuilder.DropTable(
                name: "melting_point_standards");

            migrationBuilder.DropTable(
                name: "parent_constants");

            migrationBuilder.DropTable(
                name: "parents");

            migrationBuilder.DropTable(
                name: "sources");

            migrationBuilder.DropTable(
                name: "spot_test_questions");

            migrationBuilder.DropTable(
                name: "spot_test_responses");

            migrationBuilder.DropTable(
                name: "spot_tests");

            migrationBuilder.DropTable(
                name: "table_versions");
        }
    }
}
