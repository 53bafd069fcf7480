namespace Derivid.Core.Teaching.HandOuts;

/// <summary>One unknown handed to one student.</summary>
/// <param name="StudentKey">The student.</param>
/// <param name="Number">First, second ... unknown of the student, from 1.</param>
/// <param name="Code">The code on the label.</param>
/// <param name="ParentKey">What is inside. Never shown to a student.</param>
public sealed record HandedOutUnknown(string StudentKey, int Number, UnknownCode Code, string ParentKey)
{
    /// <summary>Without the answer, so that a log line gives nothing away.</summary>
    public override string ToString() => $"{Code} for {StudentKey}";
}
