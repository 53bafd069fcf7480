namespace Derivid.Core.Teaching.HandOuts;

/// <summary>Whether one compound of a shelf can be told from the others with what the laboratory offers.</summary>
public sealed record Identifiability
{
    /// <summary>The compound.</summary>
    public required string ParentKey { get; init; }

    /// <summary>Its probability among the shelf when every reading is ideal, at the listed values.</summary>
    public required double Posterior { get; init; }

    /// <summary>
    /// One less its mean probability among the shelf when all readings are off together by −4, −2, 0, 2 or 4 °C, weighted
    /// 1, 4, 6, 4, 1: a normal error of standard deviation 2 °C in steps. Bounds: 0, easy, to 1, hopeless. Chosen.
    /// </summary>
    public required double Difficulty { get; init; }

    /// <summary>Whether <see cref="Posterior"/> reaches what the rules ask for.</summary>
    public required bool IsIdentifiable { get; init; }

    /// <summary>Others that ideal readings leave a probability of 0.05 or more. Shape: most probable first; may be empty.</summary>
    public required IReadOnlyList<string> ConfusedWith { get; init; }

    /// <summary>
    /// Derivative kinds and spot tests the laboratory lacks that would make it identifiable, each by itself. Shape: the
    /// most telling first; empty where nothing would, or nothing is needed.
    /// </summary>
    public required IReadOnlyList<string> SettledBy { get; init; }

    /// <summary>The same in words.</summary>
    public required string Sentence { get; init; }
}
