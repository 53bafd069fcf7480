using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Api.Teaching;

/// <summary>Whether one compound of the shelf can be told from the others with what the laboratory offers.</summary>
/// <param name="Parent">The compound.</param>
/// <param name="IsIdentifiable">Whether ideal readings give it the probability asked for.</param>
/// <param name="Posterior">Its probability among the shelf when every reading is ideal.</param>
/// <param name="Difficulty">One less its mean probability when all readings are off by a few °C: 0 is easy, 1 hopeless.</param>
/// <param name="ConfusedWith">Others that ideal readings leave a probability of 0.05 or more.</param>
/// <param name="SettledBy">Derivatives and tests the laboratory lacks that would settle it, each by itself.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record ShelfItem(
    string Parent,
    bool IsIdentifiable,
    double Posterior,
    double Difficulty,
    IReadOnlyList<string> ConfusedWith,
    IReadOnlyList<string> SettledBy,
    string Sentence)
{
    /// <summary>Translates.</summary>
    /// <param name="item">What was found out.</param>
    public static ShelfItem Of(Identifiability item)
    {
        ArgumentNullException.ThrowIfNull(item);
        return new ShelfItem(
            item.ParentKey,
            item.IsIdentifiable,
            item.Posterior,
            item.Difficulty,
            item.ConfusedWith,
            item.SettledBy,
            item.Sentence);
    }
}
