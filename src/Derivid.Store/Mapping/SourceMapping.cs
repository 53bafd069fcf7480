using Derivid.Core.Compounds;

namespace Derivid.Store.Mapping;

/// <summary>Maps the sources.</summary>
internal sealed class SourceMapping() : VersionedMapping<Source>("sources", nameof(Source.Key));
