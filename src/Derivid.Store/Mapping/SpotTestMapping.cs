using Derivid.Core.SpotTests;

namespace Derivid.Store.Mapping;

/// <summary>Maps the spot tests.</summary>
internal sealed class SpotTestMapping() : VersionedMapping<SpotTest>("spot_tests", nameof(SpotTest.Key));
