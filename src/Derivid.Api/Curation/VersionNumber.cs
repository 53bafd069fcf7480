using System.Globalization;
using Derivid.Api.Http;
using Derivid.Api.Table;

namespace Derivid.Api.Curation;

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
