using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;

namespace Derivid.Api.Table;

/// <summary>The vocabularies of the reference table: kinds, tests, colours, standards and sources.</summary>
public static class VocabularyEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="table">The group of the table.</param>
    public static void MapVocabularies(this RouteGroupBuilder table)
    {
        Describe<DerivativeKindItem, TableQuery>(
            table.MapGet("/derivative-kinds", ListKindsAsync),
            "listDerivativeKinds",
            "List the kinds of derivative",
            "Reagent, mass balance, solvents, usual melting range and expected colours of each kind.");
        Describe<SpotTestItem, SpotTestQuery>(
            table.MapGet("/spot-tests", ListSpotTestsAsync),
            "listSpotTests",
            "List the spot tests",
            "What each test asks, what a positive looks like, and with what probability each class of parent gives one.");
        Describe<Colour, TableQuery>(
            table.MapGet("/colours", ListColoursAsync),
            "listColours",
            "List the colours",
            "The ordered vocabulary of precipitate colours, palest first.");
        Describe<MeltingPointStandard, TableQuery>(
            table.MapGet("/melting-point-standards", ListStandardsAsync),
            "listMeltingPointStandards",
            "List the melting-point standards",
            "Substances whose clear point calibrates a thermometer.");
        Describe<Source, TableQuery>(
            table.MapGet("/sources", ListSourcesAsync),
            "listSources",
            "List the sources",
            "Everything the table's values cite, and how they were read.");
        table.MapGet("/sources/{key}", GetSourceAsync)
            .WithTags("Vocabularies")
            .WithName("getSource")
            .WithSummary("Get one source")
            .WithDescription("The source that a piece of evidence or a record cites by its key.")
            .WithQuery<VersionQuery>()
            .Produces<Source>()
            .Produces(StatusCodes.Status304NotModified);
    }

    private static void Describe<TItem, TQuery>(
        RouteHandlerBuilder endpoint, string name, string summary, string description) =>
        endpoint
            .WithTags("Vocabularies")
            .WithName(name)
            .WithSummary(summary)
            .WithDescription(description)
            .WithQuery<TQuery>()
            .Produces<Page<TItem>>()
            .Produces(StatusCodes.Status304NotModified);

    private static Task<IResult> ListKindsAsync(HttpContext context, TableSnapshots tables) =>
        TableReply.ListAsync<TableQuery, DerivativeKindItem>(
            context, tables, (_, table, _) => table.Table.Kinds.Select(k => DerivativeKindItem.Of(k, table.Table)));

    private static Task<IResult> ListColoursAsync(HttpContext context, TableSnapshots tables) =>
        TableReply.ListAsync<TableQuery, Colour>(context, tables, (_, table, _) => table.Table.Colours);

    private static Task<IResult> ListStandardsAsync(HttpContext context, TableSnapshots tables) =>
        TableReply.ListAsync<TableQuery, MeltingPointStandard>(context, tables, (_, table, _) => table.Table.Standards);

    private static Task<IResult> ListSourcesAsync(HttpContext context, TableSnapshots tables) =>
        TableReply.ListAsync<TableQuery, Source>(context, tables, (_, table, _) => table.Table.Sources);

    /// <param name="key">Key of the source.</param>
    /// <param name="context">The request.</param>
    /// <param name="tables">The tables.</param>
    private static Task<IResult> GetSourceAsync(string key, HttpContext context, TableSnapshots tables) =>
        TableReply.OneAsync(context, tables, table => table.Table.Sources.FirstOrDefault(s => s.Key == key) is { } source
            ? (source, "")
            : (null, $"{Text.Quoted(key)} is no source of this table; see /api/v1/sources."));

    private static Task<IResult> ListSpotTestsAsync(HttpContext context, TableSnapshots tables) =>
        TableReply.ListAsync<SpotTestQuery, SpotTestItem>(context, tables, SelectSpotTests);

    private static IEnumerable<SpotTestItem> SelectSpotTests(SpotTestQuery query, ServedTable table, FieldErrors errors)
    {
        if (query.QuestionKey is { } question && table.Table.Questions.All(q => q.Key != question))
        {
            errors.Add(
                "?questionKey",
                $"{Text.Quoted(question)} is no question of this table. Allowed: "
                + string.Join(", ", table.Table.Questions.Select(q => q.Key)) + ".");
        }

        return table.Table.SpotTests
            .Where(t => query.QuestionKey is null || t.QuestionKey == query.QuestionKey)
            .Select(t => SpotTestItem.Of(t, table.Table));
    }
}
