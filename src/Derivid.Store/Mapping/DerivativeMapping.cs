using Derivid.Core.Compounds;

namespace Derivid.Store.Mapping;

/// <summary>Maps the derivative records.</summary>
internal sealed class DerivativeMapping() : VersionedMapping<Derivative>("derivatives", nameof(Derivative.Key));
