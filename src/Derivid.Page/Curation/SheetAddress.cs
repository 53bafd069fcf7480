using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Contracts;
using Derivid.Core.Curation.Readings;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Extensions;

namespace Derivid.Page.Curation;

/// <summary>The sheet that an address asks for, and addresses that ask for one.</summary>
internal static class SheetAddress
{
    /// <summary>The sheet asked for. Several kinds may stand in one parameter or in several; what can't be read is left out.</summary>
    /// <param name="asked">The query of the address.</param>
    public static SheetQuery QueryOf(IQueryCollection asked) => new()
    {
        SourceKey = asked["sourceKey"].ToString(),
        Kinds = string.Join(',', asked["kinds"].OfType<string>()) is { Length: > 0 } kinds ? kinds : null,
        Order = Word<SheetOrder>(asked["order"]),
        Scope = Word<SheetScope>(asked["scope"]),
        From = Text(asked["from"]),
        First = int.TryParse(Text(asked["first"]), NumberStyles.None, CultureInfo.InvariantCulture, out var first) ? first : null,
        Proposal = Text(asked["proposal"]),
        Cursor = Text(asked["cursor"]),
    };

    /// <summary>The address of a sheet.</summary>
    /// <param name="path">Of which view or file.</param>
    /// <param name="query">The sheet.</param>
    public static string Of(string path, SheetQuery query) => path + new QueryBuilder(
        JsonSerializer.SerializeToNode(query, WireJson.Options)!.AsObject().Select(part => KeyValuePair.Create(part.Key, Text(part.Value!))));

    private static string Text(JsonNode value) => value.GetValueKind() == JsonValueKind.String ? (string)value! : value.ToJsonString();

    private static string? Text(Microsoft.Extensions.Primitives.StringValues asked) => asked.ToString().Trim() is { Length: > 0 } text ? text : null;

    private static T? Word<T>(string? asked)
        where T : struct, Enum =>
        Enum.GetValues<T>().Cast<T?>().FirstOrDefault(word => WireJson.Word(word!.Value) == asked);
}
