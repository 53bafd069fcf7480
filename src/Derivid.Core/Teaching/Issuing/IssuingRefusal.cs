namespace Derivid.Core.Teaching.Issuing;

/// <summary>Why unknowns could not be issued.</summary>
/// <param name="Constraint">Which constraint cannot be met.</param>
/// <param name="Sentence">Why, naming students and compounds.</param>
/// <param name="Remedy">What would make it possible.</param>
public sealed record IssuingRefusal(IssuingConstraint Constraint, string Sentence, string Remedy);
