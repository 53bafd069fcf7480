using System.Globalization;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Curation;

namespace Derivid.Api.Curation;

/// <summary>Comparing two versions of the table.</summary>
public static class TableDifferenceEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapTableDifferences(this RouteGroupBuilder api) =>
        api.MapGet("/table-versions/{number}/differences/{other}", ListAsync)
            .WithTags("Table versions")
            .WithPath("number", "Number of the version to start from.", isNumber: true)
            .WithPath("other", "Number of the version to arrive at.", isNumber: true)
            .TakesTurns()
            .WithName("compareTableVersions")
            .WithSummary("List what differs between two versions of the table")
            .WithDescription("What was added, changed (before and after) and removed on the way from the first to the other, by list, then key.")
            .WithQuery<ChangeQuery>()
            .Produces<RowPage<ChangeItem>>()
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.StorageUnavailable);

    private static async Task<IResult> ListAsync(string number, string other, HttpContext context, TableSnapshots tables) =>
        !(await tables.FindNamedAsync(number, context.RequestAborted)).Succeeded(out var before, out var problem)
        || !(await tables.FindNamedAsync(other, context.RequestAborted)).Succeeded(out var after, out problem)
            ? problem
            : await ChangeReply.ListAsync(context, TableDifferences.Between(before.Table, after.Table));
}

/// <summary>Answers with a page of differences.</summary>
internal static class ChangeReply
{
    private const int KindDigits = 2;

    /// <summary>Answers.</summary>
    /// <param name="context">The request.</param>
    /// <param name="changes">All differences, by kind, then key.</param>
    public static Task<IResult> ListAsync(HttpContext context, IReadOnlyList<RecordChange> changes) =>
        Pager.ListAsync<ChangeQuery, RecordChange, ChangeItem>(
            context,
            (query, beyond, most) => Task.FromResult(changes
                .Where(change => query.Table is null || change.Kind.TableName == query.Table)
                .Where(change => beyond is null || string.CompareOrdinal(SortKey(change), beyond) > 0)
                .Take(most).ToList()),
            SortKey,
            text => text.Length > KindDigits && char.IsAsciiDigit(text[0]) && char.IsAsciiDigit(text[1]),
            ChangeItem.Of);

    private static string SortKey(RecordChange change) =>
        TableLayout.Standard.PlaceOf(change.Kind).ToString("00", CultureInfo.InvariantCulture) + change.Key;
}
