using System.Globalization;
using Derivid.Api.Http;
using Derivid.Api.Table;
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

/// <summary>Finds the version of the table that an address names.</summary>
internal static class VersionNumber
{
    /// <summary>Finds it.</summary>
    /// <param name="number">As the address has it.</param>
    /// <param name="tables">The versions.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public static async Task<Outcome<ServedTable>> FindAsync(
        string number, TableSnapshots tables, CancellationToken cancellationToken) =>
        int.TryParse(number, NumberStyles.None, CultureInfo.InvariantCulture, out var version)
            ? await tables.FindAsync(version, cancellationToken)
            : new Problem(ProblemTypes.NotFound, $"{Text.Quoted(number)} is no table version; /api/v1/table-versions lists them.");
}
