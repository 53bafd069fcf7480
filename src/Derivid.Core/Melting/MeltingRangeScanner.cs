using System.Collections.Frozen;
using System.Globalization;

namespace Derivid.Core.Melting;

/// <summary>Cuts a melting range's text into figures, dashes and words, in one pass from left to right.</summary>
internal sealed class MeltingRangeScanner(string text)
{
    private const int LongestNumber = 12;
    private const string Dashes = "-\u2010\u2011\u2012\u2013\u2014\u2015\u2212\uFE58\uFE63\uFF0D";
    private const string Degrees = "°º˚";
    private const string Ignored = ".,;:=()[]";
    private const string Comparisons = "<>≤≥⩽⩾";
    private const string Abouts = "~≈∼";

    private readonly List<MeltingRangeToken> _tokens = [];
    private int _at;
    private bool _spaceBefore;

    /// <summary>The first fault met. Missing: null.</summary>
    public (MeltingRangeFault Fault, string Sentence)? Fault { get; private set; }

    /// <summary>Reads the whole text.</summary>
    /// <returns>Shape: in reading order, closed by one <see cref="MeltingRangeTokenKind.End"/>.</returns>
    public List<MeltingRangeToken> Scan()
    {
        while (_at < text.Length && Fault is null)
        {
            var next = text[_at];
            if (char.IsWhiteSpace(next))
            {
                _spaceBefore = true;
                _at++;
            }
            else if (char.IsAsciiDigit(next) || (next == '.' && DigitAt(_at + 1)))
            {
                ScanNumber();
            }
            else if (char.IsLetter(next) && !Degrees.Contains(next))
            {
                ScanWord();
            }
            else
            {
                ScanSign(next);
            }
        }

        Add(MeltingRangeTokenKind.End, "");
        return _tokens;
    }

    /// <summary>Quotes part of the text so that it is safe to print.</summary>
    /// <param name="part">The part; only its first characters are shown.</param>
    public static string Quote(string part)
    {
        const int Shown = 20;
        var runes = part.EnumerateRunes().Take(Shown + 1).ToList();
        var shown = runes.Take(Shown).Select(rune =>
            System.Text.Rune.IsControl(rune) || rune.Value == 0xFFFD || System.Text.Rune.GetUnicodeCategory(rune)
                is UnicodeCategory.Format or UnicodeCategory.PrivateUse or UnicodeCategory.OtherNotAssigned
                or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator
                or UnicodeCategory.NonSpacingMark or UnicodeCategory.EnclosingMark
                ? string.Create(CultureInfo.InvariantCulture, $"U+{rune.Value:X4}")
                : rune.ToString());
        return $"“{string.Concat(shown)}{(runes.Count > Shown ? "…" : "")}”";
    }

    private void ScanNumber()
    {
        var start = _at;
        SkipDigits();
        var commaAt = -1;
        if (_at < text.Length && text[_at] is '.' or ',' && DigitAt(_at + 1))
        {
            commaAt = text[_at] == ',' ? _at : -1;
            _at++;
            SkipDigits();
        }

        var written = text[start.._at];
        if (written.Length > LongestNumber)
        {
            Refuse(MeltingRangeFault.UnreadableNumber, $"The figure {Quote(written)} has too many digits; at most {LongestNumber} characters are read.");
        }
        else if (commaAt >= 0 && _at - commaAt > 3)
        {
            // "125,127" may be a decimal or two readings: guessing would be worse than asking.
            Refuse(MeltingRangeFault.UnreadableNumber, $"The comma in {Quote(written)} may be a decimal mark or part two readings; write a point for decimals and a dash between readings.");
        }
        else
        {
            Add(MeltingRangeTokenKind.Number, written.Replace(',', '.'));
        }
    }

    private void ScanWord()
    {
        // "mp.126": the point closes the word, it does not open a decimal.
        var start = _at;
        while (_at < text.Length && (char.IsLetter(text[_at]) || text[_at] == '.') && !Degrees.Contains(text[_at]))
        {
            _at++;
        }

        AddWord(text[start.._at]);
    }

    private void ScanSign(char sign)
    {
        _at++;
        if (Dashes.Contains(sign))
        {
            Add(MeltingRangeTokenKind.Dash, sign.ToString());
        }
        else if (sign is '+' or '\uFF0B')
        {
            Add(MeltingRangeTokenKind.Plus, "+");
        }
        else if (Degrees.Contains(sign))
        {
            Add(MeltingRangeTokenKind.Word, "°", MeltingRangeWord.Degree);
        }
        else if (Comparisons.Contains(sign))
        {
            Add(MeltingRangeTokenKind.Word, sign.ToString(), MeltingRangeWord.Comparison);
        }
        else if (Abouts.Contains(sign))
        {
            Add(MeltingRangeTokenKind.Word, sign.ToString(), MeltingRangeWord.About);
        }
        else if (sign is '℃' or '℉')
        {
            Add(MeltingRangeTokenKind.Word, sign.ToString(), sign == '℃' ? MeltingRangeWord.Celsius : MeltingRangeWord.Fahrenheit);
        }
        else if (Ignored.Contains(sign))
        {
            _spaceBefore = true;
        }
        else
        {
            RefuseCharacter(sign);
        }
    }

    private void RefuseCharacter(char sign)
    {
        var whole = char.IsHighSurrogate(sign) && _at < text.Length && char.IsLowSurrogate(text[_at])
            ? text.Substring(_at - 1, 2)
            : sign.ToString();
        Refuse(MeltingRangeFault.UnreadableCharacter, sign == '±'
            ? "“±” is not read; write the two ends as seen, onset and clear point."
            : $"The character {Quote(whole)} has no place in a melting range.");
    }

    private void AddWord(string word) => Add(
        MeltingRangeTokenKind.Word, word, MeltingRangeWords.MeaningOf(word));

    private void Add(MeltingRangeTokenKind kind, string written, MeltingRangeWord meaning = MeltingRangeWord.Unknown)
    {
        _tokens.Add(new MeltingRangeToken(kind, written, meaning, _spaceBefore));
        _spaceBefore = false;
    }

    private void Refuse(MeltingRangeFault fault, string sentence) => Fault = (fault, sentence);

    private bool DigitAt(int index) => index < text.Length && char.IsAsciiDigit(text[index]);

    private void SkipDigits()
    {
        while (DigitAt(_at))
        {
            _at++;
        }
    }
}

/// <summary>One piece of a melting range's text.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Text">As written; digits with a point for the decimal mark in a number.</param>
/// <param name="Meaning">What a word means; <see cref="MeltingRangeWord.Unknown"/> for all else.</param>
/// <param name="SpaceBefore">Whether white space stands before it.</param>
internal readonly record struct MeltingRangeToken(
    MeltingRangeTokenKind Kind,
    string Text,
    MeltingRangeWord Meaning,
    bool SpaceBefore);

/// <summary>The kinds of token.</summary>
internal enum MeltingRangeTokenKind
{
    End,
    Number,
    Dash,
    Plus,
    Word,
}

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
