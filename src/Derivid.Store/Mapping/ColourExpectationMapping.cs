using Derivid.Core.Colours;

namespace Derivid.Store.Mapping;

/// <summary>Maps the colours expected of classes of parents.</summary>
internal sealed class ColourExpectationMapping() : VersionedMapping<ColourExpectation>("colour_expectations", nameof(ColourExpectation.KindKey), nameof(ColourExpectation.Order));
