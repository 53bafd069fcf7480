using Derivid.Core.Melting;

namespace Derivid.Store.Mapping;

/// <summary>Maps the melting-point standards.</summary>
internal sealed class MeltingPointStandardMapping() : VersionedMapping<MeltingPointStandard>("melting_point_standards", nameof(MeltingPointStandard.Key));
