namespace Derivid.Core.Melting;

/// <summary>What became of a text read as a melting range: the range, or the reason there is none.</summary>
/// <remarks>Thread safety: immutable.</remarks>
public sealed record ParsedMeltingRange
{
    private ParsedMeltingRange()
    {
    }

    /// <summary>The range. Units: °C. Missing: null when the text was refused.</summary>
    public MeltingRange? Range { get; private init; }

    /// <summary>What was made of the text beyond its plain words. Shape: sentences in order of reading; may be empty.</summary>
    public IReadOnlyList<string> Notes { get; private init; } = [];

    /// <summary>Why it was refused; <see cref="MeltingRangeFault.None"/> when it was not.</summary>
    public MeltingRangeFault Fault { get; private init; }

    /// <summary>What was wrong and what is allowed, in a sentence or two. Missing: null when it was not refused.</summary>
    public string? Problem { get; private init; }

    internal static ParsedMeltingRange Of(MeltingRange range, IReadOnlyList<string> notes) =>
        new() { Range = range, Notes = notes };

    internal static ParsedMeltingRange Refused(MeltingRangeFault fault, string problem) =>
        new() { Fault = fault, Problem = problem };
}
