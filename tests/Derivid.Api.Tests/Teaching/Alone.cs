namespace Derivid.Api.Tests.Teaching;

/// <summary>Tests that measure time, and so run while no others do.</summary>
[CollectionDefinition(nameof(Alone), DisableParallelization = true)]
public sealed class Alone;
