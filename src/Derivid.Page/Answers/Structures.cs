using Derivid.Client;

namespace Derivid.Page.Answers;

/// <summary>Drawings from the service.</summary>
internal static class Structures
{
    /// <summary>Draws a parent, or a derivative of it.</summary>
    /// <param name="client">The service.</param>
    /// <param name="parent">Key of the parent.</param>
    /// <param name="kind">Key of the kind of derivative. Missing: null, the parent itself.</param>
    /// <param name="version">Version of the table.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>SVG. Missing: null, the table leaves open what the structure is.</returns>
    public static async Task<string?> DrawAsync(
        DerividClient client, string parent, string? kind, int version, CancellationToken cancellationToken)
    {
        try
        {
            return await client.Table.GetStructureAsync(parent, kind, null, version, cancellationToken);
        }
        catch (DerividException refusal) when (refusal.IsRefusal)
        {
            return null;
        }
    }
}
