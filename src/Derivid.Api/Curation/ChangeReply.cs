using System.Globalization;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Curation;

namespace Derivid.Api.Curation;

/// <summary>Answers with a page of differences.</summary>
internal static class ChangeReply
{
    private const int KindDigits = 2;

    /// <summary>Answers.</summary>
    /// <param name="context">The request.</param>
    /// <param name="changes">All differences, by kind, then key.</param>
    public static Task<IResult> ListAsync(HttpContext context, IReadOnlyList<RecordChange> changes) =>
        RowReply.ListAsync<ChangeQuery, RecordChange, ChangeItem>(
            context,
            (query, beyond, most) => Task.FromResult(changes
                .Where(change => query.Table is null || RecordTypes.Of(change.Kind).TableName == query.Table)
                .Where(change => beyond is null || string.CompareOrdinal(SortKey(change), beyond) > 0)
                .Take(most).ToList()),
            SortKey,
            text => text.Length > KindDigits && char.IsAsciiDigit(text[0]) && char.IsAsciiDigit(text[1]),
            ChangeItem.Of);

    private static string SortKey(RecordChange change) => ((int)change.Kind).ToString("00", CultureInfo.InvariantCulture) + change.Key;
}
