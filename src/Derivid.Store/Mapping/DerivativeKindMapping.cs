using Derivid.Core.Compounds;

namespace Derivid.Store.Mapping;

/// <summary>Maps the kinds of derivative.</summary>
internal sealed class DerivativeKindMapping() : VersionedMapping<DerivativeKind>("derivative_kinds", nameof(DerivativeKind.Key));
