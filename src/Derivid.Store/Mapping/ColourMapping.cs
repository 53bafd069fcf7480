using Derivid.Core.Colours;

namespace Derivid.Store.Mapping;

/// <summary>Maps the vocabulary of colours.</summary>
internal sealed class ColourMapping() : VersionedMapping<Colour>("colours", nameof(Colour.Key));
