namespace Derivid.Core.Teaching.HandOuts;

/// <summary>Why unknowns could not be handed out.</summary>
/// <param name="Constraint">Which constraint cannot be met.</param>
/// <param name="Sentence">Why, naming students and compounds.</param>
/// <param name="Remedy">What would make it possible.</param>
public sealed record HandOutRefusal(HandOutConstraint Constraint, string Sentence, string Remedy);
