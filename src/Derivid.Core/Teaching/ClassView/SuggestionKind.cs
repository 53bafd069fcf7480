namespace Derivid.Core.Teaching.ClassView;

/// <summary>What may lie behind deviations that go together.</summary>
public enum SuggestionKind
{
    /// <summary>The thermometers or apparatus of one bench read high or low.</summary>
    BenchOffset,

    /// <summary>One unknown melts away from the literature at several benches.</summary>
    BadBatch,
}
