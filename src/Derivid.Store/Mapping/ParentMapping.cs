using Derivid.Core.Compounds;

namespace Derivid.Store.Mapping;

/// <summary>Maps the parent compounds.</summary>
internal sealed class ParentMapping() : VersionedMapping<Parent>("parents", nameof(Parent.Key));
