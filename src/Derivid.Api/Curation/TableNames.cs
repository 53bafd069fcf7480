using Derivid.Api.Http;
using Derivid.Core.Curation;

namespace Derivid.Api.Curation;

/// <summary>Finds the list of the table that an address names.</summary>
internal static class TableNames
{
    /// <summary>What is allowed, for messages.</summary>
    public static string Allowed { get; } = string.Join(", ", TableLayout.Standard.Kinds.Select(kind => kind.TableName));

    /// <summary>Finds it.</summary>
    /// <param name="name">As the address has it.</param>
    public static Outcome<RecordKind> Find(string name) => TableLayout.Standard.Find(name) is { } kind
        ? kind
        : new Problem(ProblemTypes.NotFound, $"{Text.Quoted(name)} is no list of the table. Allowed: {Allowed}.");
}
