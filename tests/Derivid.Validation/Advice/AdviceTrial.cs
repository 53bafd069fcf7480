namespace Derivid.Validation.Advice;

/// <summary>How one student fared with one order of steps.</summary>
/// <param name="Steps">Steps taken after the 2,4-dinitrophenylhydrazone until an answer had 95 %, or all allowed.</param>
/// <param name="IsReached">Whether an answer had 95 %.</param>
/// <param name="IsRight">Whether the leading answer was then right.</param>
public readonly record struct AdviceTrial(int Steps, bool IsReached, bool IsRight);
