using Derivid.Core.Compounds;

namespace Derivid.Store.Mapping;

/// <summary>Maps the constants of the parents; several may share parent, property and source, so rows are numbered.</summary>
internal sealed class ParentConstantMapping() : VersionedMapping<ParentConstant>("parent_constants");
