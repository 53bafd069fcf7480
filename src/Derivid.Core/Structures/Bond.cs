namespace Derivid.Core.Structures;

/// <summary>One bond of a <see cref="Molecule"/>, in a Kekulé drawing.</summary>
/// <param name="First">Index of one atom.</param>
/// <param name="Second">Index of the other atom.</param>
/// <param name="Order">1 single to 4 quadruple; aromatic rings have alternating 1 and 2.</param>
public readonly record struct Bond(int First, int Second, int Order);
