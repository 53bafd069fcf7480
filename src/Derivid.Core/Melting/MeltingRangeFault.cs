namespace Derivid.Core.Melting;

/// <summary>Why a text was refused as a melting range.</summary>
public enum MeltingRangeFault
{
    /// <summary>Nothing is wrong.</summary>
    None,

    /// <summary>Null, empty or white space.</summary>
    Empty,

    /// <summary>Longer than <see cref="MeltingRangeText.LongestText"/>.</summary>
    TooLong,

    /// <summary>A character that has no place in a melting range.</summary>
    UnreadableCharacter,

    /// <summary>A figure of too many digits, or one whose comma may be a decimal or a separator.</summary>
    UnreadableNumber,

    /// <summary>A word that is neither a unit nor one of the usual qualifiers.</summary>
    UnknownWord,

    /// <summary>A figure followed by a unit that is none of °C, K and °F, or two ends in different units.</summary>
    UnknownUnit,

    /// <summary>No figure at all.</summary>
    NoNumber,

    /// <summary>A dash with no figure behind it, or two figures with no dash between them.</summary>
    Incomplete,

    /// <summary>More than two figures.</summary>
    TooManyNumbers,

    /// <summary>May be read in two ways.</summary>
    Ambiguous,

    /// <summary>"Over 300" or "below 50": no melting was seen, so there is no range.</summary>
    OpenEnded,

    /// <summary>Marked as a literature value, or as a boiling point where a melting range is asked for.</summary>
    NotThisReading,

    /// <summary>The upper end lies below the lower.</summary>
    Reversed,

    /// <summary>Below absolute zero, or outside what <see cref="MeltingRange"/> accepts.</summary>
    OutOfBounds,
}
