using Derivid.Core.SpotTests;

namespace Derivid.Store.Mapping;

/// <summary>Maps the questions spot tests ask.</summary>
internal sealed class SpotTestQuestionMapping() : VersionedMapping<SpotTestQuestion>("spot_test_questions", nameof(SpotTestQuestion.Key));
