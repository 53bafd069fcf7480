namespace Derivid.Store.Identifications;

/// <summary>An identification as it was answered, with all that is needed to replay it.</summary>
/// <param name="Id">Hash of observation, table version and model version; equal inputs have one id.</param>
/// <param name="TableVersion">The table version it was made on.</param>
/// <param name="ModelVersion">The scoring model it was made with.</param>
/// <param name="ObservationJson">The normalised observation, byte for byte.</param>
/// <param name="ResultJson">The answer, byte for byte.</param>
/// <param name="CreatedAtUtc">When it was first stored. Units: UTC.</param>
public sealed record StoredIdentification(
    string Id,
    int TableVersion,
    string ModelVersion,
    string ObservationJson,
    string ResultJson,
    DateTime CreatedAtUtc);
