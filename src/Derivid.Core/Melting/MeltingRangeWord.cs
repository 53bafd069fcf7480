using System.Collections.Frozen;

namespace Derivid.Core.Melting;

/// <summary>What a word or sign beside a melting range's figures means.</summary>
internal enum MeltingRangeWord
{
    Unknown,
    MeltingLabel,
    BoilingLabel,
    Filler,
    To,
    Degree,
    Celsius,
    Kelvin,
    Fahrenheit,
    Decomposes,
    About,
    Sharp,
    Sublimes,
    Corrected,
    Uncorrected,
    Literature,
    Comparison,
}

/// <summary>The words chemists put around a melting range, in lower case without full stops.</summary>
internal static class MeltingRangeWords
{
    private static readonly FrozenDictionary<string, MeltingRangeWord> Known = Table(
        (MeltingRangeWord.MeltingLabel, "m p mp mpt melting melts melted point range fp smp schmp schmelzpunkt"),
        (MeltingRangeWord.BoilingLabel, "b bp bpt boiling boils boiled kp sdp siedepunkt"),
        (MeltingRangeWord.Filler, "at from between with of is was"),
        (MeltingRangeWord.To, "to and bis"),
        (MeltingRangeWord.Degree, "deg degs degree degrees"),
        (MeltingRangeWord.Celsius, "c oc degc celsius centigrade"),
        (MeltingRangeWord.Kelvin, "k kelvin kelvins"),
        (MeltingRangeWord.Fahrenheit, "f degf fahrenheit"),
        (MeltingRangeWord.Decomposes, "d dec decomp decomposes decomposed decomposing decomposition zers zersetzung"),
        (MeltingRangeWord.About, "ca circa about approx approximately around roughly etwa"),
        (MeltingRangeWord.Sharp, "sharp sharply"),
        (MeltingRangeWord.Sublimes, "sub subl sublimes sublimed sublimation"),
        (MeltingRangeWord.Corrected, "cor corr corrected"),
        (MeltingRangeWord.Uncorrected, "uncor uncorr uncorrected"),
        (MeltingRangeWord.Literature, "lit literature"),
        (MeltingRangeWord.Comparison, "over above below under"));

    /// <summary>Looks a word up.</summary>
    /// <param name="word">As written, full stops included.</param>
    public static MeltingRangeWord MeaningOf(string word) =>
        Known.GetValueOrDefault(word.Replace(".", "", StringComparison.Ordinal).ToLowerInvariant());

    private static FrozenDictionary<string, MeltingRangeWord> Table(params (MeltingRangeWord Meaning, string Words)[] rows) =>
        rows.SelectMany(row => row.Words.Split(' '), (row, word) => KeyValuePair.Create(word, row.Meaning))
            .ToFrozenDictionary(StringComparer.Ordinal);
}
