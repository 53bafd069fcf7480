using System;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace Derivid.Store.PostgreSql.Migrations
{
    /// <inheritdoc />
    public partial class Initial : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "api_keys",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false),
                    secret_hash = table.Column<byte[]>(type: "bytea", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    role = table.Column<string>(type: "text", nullable: false),
                    created_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    created_by = table.Column<string>(type: "text", nullable: false),
                    expires_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    revoked_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    last_used_on = table.Column<DateOnly>(type: "date", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_api_keys", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "audit_entries",
                columns: table => new
                {
                    sequence = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    actor = table.Column<string>(type: "text", nullable: false),
                    action = table.Column<string>(type: "text", nullable: false),
                    resource = table.Column<string>(type: "text", nullable: false),
                    reason = table.Column<string>(type: "text", nullable: true),
                    table_version = table.Column<int>(type: "integer", nullable: true),
                    trace_id = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_audit_entries", x => x.sequence);
                });

            migrationBuilder.CreateTable(
                name: "colour_expectations",
                columns: table => new
                {
                    kind_key = table.Column<string>(type: "text", nullable: false),
                    order = table.Column<int>(type: "integer", nullable: false),
                    from_version = table.Column<int>(type: "integer", nullable: false),
                    structure_class = table.Column<string>(type: "text", nullable: false),
                    weights = table.Column<string>(type: "text", nullable: false),
                    source_key = table.Column<string>(type: "text", nullable: false),
                    is_assumed = table.Column<bool>(type: "boolean", nullable: false),
                    note = table.Column<string>(type: "text", nullable: true),
                    to_version = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_colour_expectations", x => new { x.kind_key, x.order, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "colours",
                columns: table => new
                {
                    key = table.Column<string>(type: "text", nullable: false),
                    from_version = table.Column<int>(type: "integer", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    rank = table.Column<int>(type: "integer", nullable: true),
                    synonyms = table.Column<string>(type: "text", nullable: false),
                    to_version = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_colours", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "derivative_kinds",
                columns: table => new
                {
                    key = table.Column<string>(type: "text", nullable: false),
                    from_version = table.Column<int>(type: "integer", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    synonyms = table.Column<string>(type: "text", nullable: false),
                    reagent_name = table.Column<string>(type: "text", nullable: false),
                    reagent_smiles = table.Column<string>(type: "text", nullable: false),
                    reagent_formula = table.Column<string>(type: "text", nullable: false),
                    reagent_molar_mass = table.Column<double>(type: "double precision", nullable: false),
                    reagents_per_carbonyl = table.Column<int>(type: "integer", nullable: false),
                    waters_per_carbonyl = table.Column<int>(type: "integer", nullable: false),
                    applies_to = table.Column<string>(type: "text", nullable: false),
                    closes_to = table.Column<string>(type: "text", nullable: true),
                    test_key = table.Column<string>(type: "text", nullable: true),
                    reagent_melting_celsius = table.Column<double>(type: "double precision", nullable: true),
                    colour_informs = table.Column<bool>(type: "boolean", nullable: false),
                    recrystallisation_solvents = table.Column<string>(type: "text", nullable: false),
                    usual_low_celsius = table.Column<double>(type: "double precision", nullable: false),
                    usual_high_celsius = table.Column<double>(type: "double precision", nullable: false),
                    minutes = table.Column<double>(type: "double precision", nullable: false),
                    hazard = table.Column<string>(type: "text", nullable: false),
                    cautions = table.Column<string>(type: "text", nullable: false),
                    source_key = table.Column<string>(type: "text", nullable: false),
                    to_version = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_derivative_kinds", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "derivatives",
                columns: table => new
                {
                    key = table.Column<string>(type: "text", nullable: false),
                    from_version = table.Column<int>(type: "integer", nullable: false),
                    parent_key = table.Column<string>(type: "text", nullable: false),
                    kind_key = table.Column<string>(type: "text", nullable: false),
                    carbonyls_condensed = table.Column<int>(type: "integer", nullable: false),
                    form = table.Column<string>(type: "text", nullable: true),
                    low_celsius = table.Column<double>(type: "double precision", nullable: false),
                    high_celsius = table.Column<double>(type: "double precision", nullable: false),
                    is_unusual = table.Column<bool>(type: "boolean", nullable: false),
                    decomposes = table.Column<bool>(type: "boolean", nullable: false),
                    colour_key = table.Column<string>(type: "text", nullable: true),
                    source_key = table.Column<string>(type: "text", nullable: false),
                    locator = table.Column<string>(type: "text", nullable: true),
                    as_printed = table.Column<string>(type: "text", nullable: false),
                    corrected = table.Column<bool>(type: "boolean", nullable: true),
                    verification = table.Column<string>(type: "text", nullable: false),
                    note = table.Column<string>(type: "text", nullable: true),
                    to_version = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_derivatives", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "idempotent_requests",
                columns: table => new
                {
                    actor = table.Column<string>(type: "text", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false),
                    request_hash = table.Column<string>(type: "text", nullable: false),
                    resource = table.Column<string>(type: "text", nullable: false),
                    at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_idempotent_requests", x => new { x.actor, x.key });
                });

            migrationBuilder.CreateTable(
                name: "melting_point_standards",
                columns: table => new
                {
                    key = table.Column<string>(type: "text", nullable: false),
                    from_version = table.Column<int>(type: "integer", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    cas_number = table.Column<string>(type: "text", nullable: false),
                    clear_point_celsius = table.Column<double>(type: "double precision", nullable: false),
                    source_key = table.Column<string>(type: "text", nullable: false),
                    verification = table.Column<string>(type: "text", nullable: false),
                    note = table.Column<string>(type: "text", nullable: true),
                    to_version = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_melting_point_standards", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "parent_constants",
                columns: table => new
                {
                    parent_key = table.Column<string>(type: "text", nullable: false),
                    property = table.Column<string>(type: "text", nullable: false),
                    low = table.Column<double>(type: "double precision", nullable: false),
                    source_key = table.Column<string>(type: "text", nullable: false),
                    from_version = table.Column<int>(type: "integer", nullable: false),
                    high = table.Column<double>(type: "double precision", nullable: false),
                    pressure_kilopascals = table.Column<double>(type: "double precision", nullable: true),
                    locator = table.Column<string>(type: "text", nullable: true),
                    verification = table.Column<string>(type: "text", nullable: false),
                    note = table.Column<string>(type: "text", nullable: true),
                    to_version = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_parent_constants", x => new { x.parent_key, x.property, x.source_key, x.low, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "parents",
                columns: table => new
                {
                    key = table.Column<string>(type: "text", nullable: false),
                    from_version = table.Column<int>(type: "integer", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    synonyms = table.Column<string>(type: "text", nullable: false),
                    cas_number = table.Column<string>(type: "text", nullable: false),
                    smiles = table.Column<string>(type: "text", nullable: false),
                    formula = table.Column<string>(type: "text", nullable: false),
                    molar_mass = table.Column<double>(type: "double precision", nullable: false),
                    kind = table.Column<string>(type: "text", nullable: false),
                    hazards = table.Column<string>(type: "text", nullable: true),
                    commonness = table.Column<string>(type: "text", nullable: true),
                    commonness_basis = table.Column<string>(type: "text", nullable: true),
                    note = table.Column<string>(type: "text", nullable: true),
                    to_version = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_parents", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "sources",
                columns: table => new
                {
                    key = table.Column<string>(type: "text", nullable: false),
                    from_version = table.Column<int>(type: "integer", nullable: false),
                    citation = table.Column<string>(type: "text", nullable: false),
                    address = table.Column<string>(type: "text", nullable: true),
                    grade = table.Column<string>(type: "text", nullable: false),
                    family = table.Column<string>(type: "text", nullable: false),
                    how_read = table.Column<string>(type: "text", nullable: false),
                    to_version = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_sources", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "spot_test_questions",
                columns: table => new
                {
                    key = table.Column<string>(type: "text", nullable: false),
                    from_version = table.Column<int>(type: "integer", nullable: false),
                    text = table.Column<string>(type: "text", nullable: false),
                    contrary_rate = table.Column<double>(type: "double precision", nullable: false),
                    is_assumed = table.Column<bool>(type: "boolean", nullable: false),
                    source_key = table.Column<string>(type: "text", nullable: false),
                    to_version = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_spot_test_questions", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "spot_test_responses",
                columns: table => new
                {
                    test_key = table.Column<string>(type: "text", nullable: false),
                    order = table.Column<int>(type: "integer", nullable: false),
                    from_version = table.Column<int>(type: "integer", nullable: false),
                    applies_to = table.Column<string>(type: "text", nullable: false),
                    positive_rate = table.Column<double>(type: "double precision", nullable: false),
                    answers_yes = table.Column<bool>(type: "boolean", nullable: false),
                    is_assumed = table.Column<bool>(type: "boolean", nullable: false),
                    source_key = table.Column<string>(type: "text", nullable: false),
                    note = table.Column<string>(type: "text", nullable: true),
                    to_version = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_spot_test_responses", x => new { x.test_key, x.order, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "spot_tests",
                columns: table => new
                {
                    key = table.Column<string>(type: "text", nullable: false),
                    from_version = table.Column<int>(type: "integer", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    synonyms = table.Column<string>(type: "text", nullable: false),
                    question_key = table.Column<string>(type: "text", nullable: false),
                    positive_looks_like = table.Column<string>(type: "text", nullable: false),
                    read_within_minutes = table.Column<double>(type: "double precision", nullable: false),
                    minutes = table.Column<double>(type: "double precision", nullable: false),
                    hazard = table.Column<string>(type: "text", nullable: false),
                    cautions = table.Column<string>(type: "text", nullable: false),
                    positive_rate_if_yes = table.Column<double>(type: "double precision", nullable: false),
                    positive_rate_if_no = table.Column<double>(type: "double precision", nullable: false),
                    known_exceptions = table.Column<string>(type: "text", nullable: true),
                    source_key = table.Column<string>(type: "text", nullable: false),
                    to_version = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_spot_tests", x => new { x.key, x.from_version });
                });

            migrationBuilder.CreateTable(
                name: "table_versions",
                columns: table => new
                {
                    number = table.Column<int>(type: "integer", nullable: false),
                    released_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    note = table.Column<string>(type: "text", nullable: false),
                    content_hash = table.Column<string>(type: "text", nullable: false),
                    seed_hash = table.Column<string>(type: "text", nullable: true),
                    source_count = table.Column<int>(type: "integer", nullable: false),
                    parent_count = table.Column<int>(type: "integer", nullable: false),
                    derivative_kind_count = table.Column<int>(type: "integer", nullable: false),
                    derivative_count = table.Column<int>(type: "integer", nullable: false),
                    spot_test_count = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_table_versions", x => x.number);
                });

            migrationBuilder.CreateTable(
                name: "courses",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    table_version = table.Column<int>(type: "integer", nullable: false),
                    shelf_keys = table.Column<string>(type: "text", nullable: false),
                    kind_keys = table.Column<string>(type: "text", nullable: false),
                    spot_test_keys = table.Column<string>(type: "text", nullable: false),
                    takes_boiling_point = table.Column<bool>(type: "boolean", nullable: false),
                    takes_melting_point = table.Column<bool>(type: "boolean", nullable: false),
                    window_celsius = table.Column<double>(type: "double precision", nullable: false),
                    rubric_json = table.Column<string>(type: "text", nullable: false),
                    due_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    closes_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    most_attempts = table.Column<int>(type: "integer", nullable: false),
                    shows_ranking = table.Column<bool>(type: "boolean", nullable: false),
                    is_invented = table.Column<bool>(type: "boolean", nullable: false),
                    hand_out_number = table.Column<int>(type: "integer", nullable: false),
                    published_grading_id = table.Column<string>(type: "text", nullable: true),
                    is_examination = table.Column<bool>(type: "boolean", nullable: false),
                    revision = table.Column<int>(type: "integer", nullable: false),
                    created_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_courses", x => x.id);
                    table.ForeignKey(
                        name: "fk_courses_table_versions_table_version",
                        column: x => x.table_version,
                        principalTable: "table_versions",
                        principalColumn: "number",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "identifications",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false),
                    table_version = table.Column<int>(type: "integer", nullable: false),
                    model_version = table.Column<string>(type: "text", nullable: false),
                    observation_json = table.Column<string>(type: "text", nullable: false),
                    result_json = table.Column<string>(type: "text", nullable: false),
                    created_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
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

            migrationBuilder.CreateTable(
                name: "proposals",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false),
                    title = table.Column<string>(type: "text", nullable: false),
                    reason = table.Column<string>(type: "text", nullable: true),
                    state = table.Column<string>(type: "text", nullable: false),
                    revision = table.Column<int>(type: "integer", nullable: false),
                    base_version = table.Column<int>(type: "integer", nullable: false),
                    restores_version = table.Column<int>(type: "integer", nullable: true),
                    authors = table.Column<string>(type: "text", nullable: false),
                    created_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    updated_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    reviewed_by = table.Column<string>(type: "text", nullable: true),
                    review_note = table.Column<string>(type: "text", nullable: true),
                    released_version = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_proposals", x => x.id);
                    table.ForeignKey(
                        name: "fk_proposals_table_versions_base_version",
                        column: x => x.base_version,
                        principalTable: "table_versions",
                        principalColumn: "number",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "course_students",
                columns: table => new
                {
                    course_id = table.Column<string>(type: "text", nullable: false),
                    student_key = table.Column<string>(type: "text", nullable: false),
                    bench = table.Column<string>(type: "text", nullable: true),
                    place = table.Column<int>(type: "integer", nullable: true),
                    neighbours = table.Column<string>(type: "text", nullable: false),
                    actor = table.Column<string>(type: "text", nullable: true),
                    is_enrolled = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_course_students", x => new { x.course_id, x.student_key });
                    table.ForeignKey(
                        name: "fk_course_students_courses_course_id",
                        column: x => x.course_id,
                        principalTable: "courses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "gradings",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false),
                    course_id = table.Column<string>(type: "text", nullable: false),
                    basis = table.Column<string>(type: "text", nullable: false),
                    rubric_json = table.Column<string>(type: "text", nullable: false),
                    table_version = table.Column<int>(type: "integer", nullable: false),
                    model_version = table.Column<string>(type: "text", nullable: false),
                    due_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    total = table.Column<int>(type: "integer", nullable: false),
                    created_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    leased_until_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    finished_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_gradings", x => x.id);
                    table.ForeignKey(
                        name: "fk_gradings_courses_course_id",
                        column: x => x.course_id,
                        principalTable: "courses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "hand_outs",
                columns: table => new
                {
                    course_id = table.Column<string>(type: "text", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    seed = table.Column<string>(type: "text", nullable: false),
                    table_version = table.Column<int>(type: "integer", nullable: false),
                    model_version = table.Column<string>(type: "text", nullable: false),
                    shelf_keys = table.Column<string>(type: "text", nullable: false),
                    summary_json = table.Column<string>(type: "text", nullable: false),
                    handed_out_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_hand_outs", x => new { x.course_id, x.number });
                    table.ForeignKey(
                        name: "fk_hand_outs_courses_course_id",
                        column: x => x.course_id,
                        principalTable: "courses",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "import_jobs",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false),
                    proposal_id = table.Column<string>(type: "text", nullable: false),
                    revision = table.Column<int>(type: "integer", nullable: false),
                    table_name = table.Column<string>(type: "text", nullable: false),
                    is_whole = table.Column<bool>(type: "boolean", nullable: false),
                    is_dry_run = table.Column<bool>(type: "boolean", nullable: false),
                    state = table.Column<string>(type: "text", nullable: false),
                    started_by = table.Column<string>(type: "text", nullable: false),
                    created_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    seen_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    ended_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    percent = table.Column<int>(type: "integer", nullable: false),
                    rows = table.Column<int>(type: "integer", nullable: false),
                    faults = table.Column<int>(type: "integer", nullable: false),
                    added = table.Column<int>(type: "integer", nullable: false),
                    changed = table.Column<int>(type: "integer", nullable: false),
                    unchanged = table.Column<int>(type: "integer", nullable: false),
                    removed = table.Column<int>(type: "integer", nullable: false),
                    is_cancel_requested = table.Column<bool>(type: "boolean", nullable: false),
                    message = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_import_jobs", x => x.id);
                    table.ForeignKey(
                        name: "fk_import_jobs_proposals_proposal_id",
                        column: x => x.proposal_id,
                        principalTable: "proposals",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "proposal_comments",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    proposal_id = table.Column<string>(type: "text", nullable: false),
                    author = table.Column<string>(type: "text", nullable: false),
                    text = table.Column<string>(type: "text", nullable: false),
                    at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_proposal_comments", x => x.id);
                    table.ForeignKey(
                        name: "fk_proposal_comments_proposals_proposal_id",
                        column: x => x.proposal_id,
                        principalTable: "proposals",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "proposed_records",
                columns: table => new
                {
                    proposal_id = table.Column<string>(type: "text", nullable: false),
                    table_name = table.Column<string>(type: "text", nullable: false),
                    record_key = table.Column<string>(type: "text", nullable: false),
                    record_json = table.Column<string>(type: "text", nullable: false),
                    changed_by = table.Column<string>(type: "text", nullable: false),
                    changed_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_proposed_records", x => new { x.proposal_id, x.table_name, x.record_key });
                    table.ForeignKey(
                        name: "fk_proposed_records_proposals_proposal_id",
                        column: x => x.proposal_id,
                        principalTable: "proposals",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "assignments",
                columns: table => new
                {
                    course_id = table.Column<string>(type: "text", nullable: false),
                    hand_out_number = table.Column<int>(type: "integer", nullable: false),
                    student_key = table.Column<string>(type: "text", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    code = table.Column<string>(type: "text", nullable: false),
                    parent_key = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_assignments", x => new { x.course_id, x.hand_out_number, x.student_key, x.number });
                    table.ForeignKey(
                        name: "fk_assignments_hand_outs_course_id_hand_out_number",
                        columns: x => new { x.course_id, x.hand_out_number },
                        principalTable: "hand_outs",
                        principalColumns: new[] { "course_id", "number" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "import_faults",
                columns: table => new
                {
                    job_id = table.Column<string>(type: "text", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    line = table.Column<int>(type: "integer", nullable: false),
                    column = table.Column<string>(type: "text", nullable: false),
                    value = table.Column<string>(type: "text", nullable: false),
                    allowed = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_import_faults", x => new { x.job_id, x.number });
                    table.ForeignKey(
                        name: "fk_import_faults_import_jobs_job_id",
                        column: x => x.job_id,
                        principalTable: "import_jobs",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "course_reports",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false),
                    course_id = table.Column<string>(type: "text", nullable: false),
                    hand_out_number = table.Column<int>(type: "integer", nullable: false),
                    student_key = table.Column<string>(type: "text", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    attempt = table.Column<int>(type: "integer", nullable: false),
                    body_json = table.Column<string>(type: "text", nullable: false),
                    created_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false),
                    handed_in_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: true),
                    revision = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_course_reports", x => x.id);
                    table.ForeignKey(
                        name: "fk_course_reports_assignments_course_id_hand_out_number_studen",
                        columns: x => new { x.course_id, x.hand_out_number, x.student_key, x.number },
                        principalTable: "assignments",
                        principalColumns: new[] { "course_id", "hand_out_number", "student_key", "number" },
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "course_grades",
                columns: table => new
                {
                    report_id = table.Column<string>(type: "text", nullable: false),
                    basis = table.Column<string>(type: "text", nullable: false),
                    grade_json = table.Column<string>(type: "text", nullable: false),
                    total = table.Column<double>(type: "double precision", nullable: false),
                    maximum = table.Column<double>(type: "double precision", nullable: false),
                    graded_at_utc = table.Column<DateTime>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_course_grades", x => new { x.report_id, x.basis });
                    table.ForeignKey(
                        name: "fk_course_grades_course_reports_report_id",
                        column: x => x.report_id,
                        principalTable: "course_reports",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "grading_entries",
                columns: table => new
                {
                    grading_id = table.Column<string>(type: "text", nullable: false),
                    report_id = table.Column<string>(type: "text", nullable: false),
                    is_done = table.Column<bool>(type: "boolean", nullable: false),
                    problem = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_grading_entries", x => new { x.grading_id, x.report_id });
                    table.ForeignKey(
                        name: "fk_grading_entries_course_reports_report_id",
                        column: x => x.report_id,
                        principalTable: "course_reports",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_grading_entries_gradings_grading_id",
                        column: x => x.grading_id,
                        principalTable: "gradings",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_assignments_course_id_hand_out_number_code",
                table: "assignments",
                columns: new[] { "course_id", "hand_out_number", "code" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_audit_entries_action_sequence",
                table: "audit_entries",
                columns: new[] { "action", "sequence" });

            migrationBuilder.CreateIndex(
                name: "ix_audit_entries_actor_sequence",
                table: "audit_entries",
                columns: new[] { "actor", "sequence" });

            migrationBuilder.CreateIndex(
                name: "ix_audit_entries_resource_sequence",
                table: "audit_entries",
                columns: new[] { "resource", "sequence" });

            migrationBuilder.CreateIndex(
                name: "ix_course_reports_course_id_hand_out_number_student_key_number",
                table: "course_reports",
                columns: new[] { "course_id", "hand_out_number", "student_key", "number", "attempt" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_course_students_actor",
                table: "course_students",
                column: "actor");

            migrationBuilder.CreateIndex(
                name: "ix_course_students_course_id_actor",
                table: "course_students",
                columns: new[] { "course_id", "actor" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_courses_table_version",
                table: "courses",
                column: "table_version");

            migrationBuilder.CreateIndex(
                name: "ix_grading_entries_report_id",
                table: "grading_entries",
                column: "report_id");

            migrationBuilder.CreateIndex(
                name: "ix_gradings_course_id",
                table: "gradings",
                column: "course_id");

            migrationBuilder.CreateIndex(
                name: "ix_gradings_finished_at_utc",
                table: "gradings",
                column: "finished_at_utc");

            migrationBuilder.CreateIndex(
                name: "ix_identifications_table_version",
                table: "identifications",
                column: "table_version");

            migrationBuilder.CreateIndex(
                name: "ix_import_jobs_proposal_id",
                table: "import_jobs",
                column: "proposal_id");

            migrationBuilder.CreateIndex(
                name: "ix_proposal_comments_proposal_id",
                table: "proposal_comments",
                column: "proposal_id");

            migrationBuilder.CreateIndex(
                name: "ix_proposals_base_version",
                table: "proposals",
                column: "base_version");

            // Numbered under a lock that lasts until the commit, so numbers have no gaps, and no entry becomes visible
            // after one of a higher number was read. The lock's number is "AUDIT" in ASCII.
            migrationBuilder.Sql(
                """
                CREATE FUNCTION audit_entries_number() RETURNS trigger LANGUAGE plpgsql AS $$
                BEGIN
                    PERFORM pg_advisory_xact_lock(x'4155444954'::bigint);
                    NEW.sequence := (SELECT coalesce(max(sequence), 0) + 1 FROM audit_entries);
                    RETURN NEW;
                END $$;
                CREATE TRIGGER audit_entries_number BEFORE INSERT ON audit_entries
                    FOR EACH ROW EXECUTE FUNCTION audit_entries_number();
                CREATE FUNCTION audit_entries_refuse() RETURNS trigger LANGUAGE plpgsql AS $$
                BEGIN
                    RAISE EXCEPTION 'The audit log is append-only.';
                END $$;
                CREATE TRIGGER audit_entries_refuse BEFORE UPDATE OR DELETE OR TRUNCATE ON audit_entries
                    FOR EACH STATEMENT EXECUTE FUNCTION audit_entries_refuse();
                """);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "api_keys");

            migrationBuilder.DropTable(
                name: "audit_entries");

            migrationBuilder.DropTable(
                name: "colour_expectations");

            migrationBuilder.DropTable(
                name: "colours");

            migrationBuilder.DropTable(
                name: "course_grades");

            migrationBuilder.DropTable(
                name: "course_students");

            migrationBuilder.DropTable(
                name: "derivative_kinds");

            migrationBuilder.DropTable(
                name: "derivatives");

            migrationBuilder.DropTable(
                name: "grading_entries");

            migrationBuilder.DropTable(
                name: "idempotent_requests");

            migrationBuilder.DropTable(
                name: "identifications");

            migrationBuilder.DropTable(
                name: "import_faults");

            migrationBuilder.DropTable(
                name: "melting_point_standards");

            migrationBuilder.DropTable(
                name: "parent_constants");

            migrationBuilder.DropTable(
                name: "parents");

            migrationBuilder.DropTable(
                name: "proposal_comments");

            migrationBuilder.DropTable(
                name: "proposed_records");

            migrationBuilder.DropTable(
                name: "sources");

            migrationBuilder.DropTable(
                name: "spot_test_questions");

            migrationBuilder.DropTable(
                name: "spot_test_responses");

            migrationBuilder.DropTable(
                name: "spot_tests");

            migrationBuilder.DropTable(
                name: "course_reports");

            migrationBuilder.DropTable(
                name: "gradings");

            migrationBuilder.DropTable(
                name: "import_jobs");

            migrationBuilder.DropTable(
                name: "assignments");

            migrationBuilder.DropTable(
                name: "proposals");

            migrationBuilder.DropTable(
                name: "hand_outs");

            migrationBuilder.DropTable(
                name: "courses");

            migrationBuilder.DropTable(
                name: "table_versions");

            migrationBuilder.Sql("DROP FUNCTION audit_entries_number; DROP FUNCTION audit_entries_refuse;");
        }
    }
}
