namespace Derivid.Core.Teaching.HandOuts;

/// <summary>Two students who work in sight of each other although their places do not say so.</summary>
/// <param name="FirstStudentKey">One of them.</param>
/// <param name="SecondStudentKey">The other.</param>
public sealed record NeighbourPair(string FirstStudentKey, string SecondStudentKey);
