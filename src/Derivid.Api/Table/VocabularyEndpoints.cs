using Derivid.Api.Http;
using Derivid.Contracts;

namespace Derivid.Api.Table;

/// <summary>The vocabularies of the reference table: kinds, tests, colours, standards and sources.</summary>
public static class VocabularyEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="table">The group of the table.</param>
    public static void MapVocabularies(this RouteGroupBuilder table)
    {
        Describe<DerivativeKindItem, PageQuery>(
            table.MapGet("/derivative-kinds", ListKindsAsync),
            "listDerivativeKinds",
            "List the kinds of derivative",
            "Reagent, mass balance, solvents, usual melting range and expected colours of each kind.");
        Describe<SpotTestItem, SpotTestQuery>(
            table.MapGet("/spot-tests", ListSpotTestsAsync),
            "listSpotTests",
            "List the spot tests",
            "What each test asks, what a positive looks like, and with what probability each class of parent gives one.");
        Describe<ColourItem, PageQuery>(
            table.MapGet("/colours", ListColoursAsync),
            "listColours",
            "List the colours",
            "The ordered vocabulary of precipitate colours, palest first.");
        Describe<StandardItem, PageQuery>(
            table.MapGet("/melting-point-standards", ListStandardsAsync),
            "listMeltingPointStandards",
            "List the melting-point standards",
            "Substances whose clear point calibrates a thermometer.");
        Describe<SourceItem, PageQuery>(
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
            .Produces<SourceItem>()
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
        TableReply.ListAsync<PageQuery, DerivativeKindItem>(
            context, tables, (_, table, _) => table.Table.Kinds.Select(k => DerivativeKindItem.Of(k, table.Table)));

    private static Task<IResult> ListColoursAsync(HttpContext context, TableSnapshots tables) =>
        TableReply.ListAsync<PageQuery, ColourItem>(
            context, tables, (_, table, _) => table.Table.Colours.Select(ColourItem.Of));

    private static Task<IResult> ListStandardsAsync(HttpContext context, TableSnapshots tables) =>
        TableReply.ListAsync<PageQuery, StandardItem>(
            context, tables, (_, table, _) => table.Table.Standards.Select(StandardItem.Of));

    private static Task<IResult> ListSourcesAsync(HttpContext context, TableSnapshots tables) =>
        TableReply.ListAsync<PageQuery, SourceItem>(
            context, tables, (_, table, _) => table.Table.Sources.Select(SourceItem.Of));

    /// <param name="key">Key of the source.</param>
    /// <param name="context">The request.</param>
    /// <param name="tables">The tables.</param>
    private static Task<IResult> GetSourceAsync(string key, HttpContext context, TableSnapshots tables) =>
        TableReply.OneAsync(context, tables, table => table.Table.Sources.FirstOrDefault(s => s.Key == key) is { } source
            ? (SourceItem.Of(source), "")
            : (null, $"{Text.Quoted(key)} is no source of this table; see /api/v1/sources."));

    private static Task<IResult> ListSpotTestsAsync(HttpContext context, TableSnapshots tables) =>
        TableReply.ListAsync<SpotTestQuery, SpotTestItem>(context, tables, SelectSpotTests);

    private static IEnumerable<SpotTestItem> SelectSpotTests(SpotTestQuery query, ServedTable table, FieldErrors errors)
    {
        if (query.Question is { } question && table.Table.Questions.All(q => q.Key != question))
        {
            errors.Add(
                "?question",
                $"{Text.Quoted(question)} is no question of this table. Allowed: "
                + string.Join(", ", table.Table.Questions.Select(q => q.Key)) + ".");
        }

        return table.Table.SpotTests
            .Where(t => query.Question is null || t.QuestionKey == query.Question)
            .Select(t => SpotTestItem.Of(t, table.Table));
    }
}
