using System.Text;
using Derivid.Contracts;
using Derivid.Store.Identifications;

namespace Derivid.Api.Identifications;

/// <summary>An identification ready to be sent and stored.</summary>
/// <param name="Id">Its id.</param>
/// <param name="TableVersion">Version of the reference table used.</param>
/// <param name="ModelVersion">Version of the model used.</param>
/// <param name="Request">The request in canonical form, as UTF-8 JSON.</param>
/// <param name="Response">The answer.</param>
/// <param name="Body">The answer as it is sent, as UTF-8 JSON.</param>
public sealed record IdentificationReply(
    string Id, int TableVersion, string ModelVersion, byte[] Request, IdentificationResponse Response, byte[] Body)
{
    /// <summary>The same as it is kept.</summary>
    /// <param name="createdAt">Now.</param>
    public StoredIdentification ToStored(DateTimeOffset createdAt) => new(
        Id,
        TableVersion,
        ModelVersion,
        Encoding.UTF8.GetString(Request),
        Encoding.UTF8.GetString(Body),
        createdAt.UtcDateTime);
}
