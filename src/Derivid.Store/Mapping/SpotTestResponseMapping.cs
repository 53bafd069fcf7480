using Derivid.Core.SpotTests;

namespace Derivid.Store.Mapping;

/// <summary>Maps how classes of parents answer the tests.</summary>
internal sealed class SpotTestResponseMapping() : VersionedMapping<SpotTestResponse>("spot_test_responses", nameof(SpotTestResponse.TestKey), nameof(SpotTestResponse.Order));
