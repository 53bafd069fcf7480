using System.Text.RegularExpressions;

namespace Derivid.Core.Compounds;

/// <summary>What no compound is called, so that a slip of typing or copying is seen.</summary>
public static partial class CompoundName
{
    /// <summary>Longest name that is taken for one. Units: characters. Chosen: the longest of the seed tables has 59.</summary>
    public const int LongestUsual = 150;

    private const string Markup = "<>{}\\|`*_#$^~=&";

    /// <summary>Why a text is hardly a compound's name.</summary>
    /// <param name="name">The text.</param>
    /// <returns>What a name should be, in a sentence. Missing: null, it may be one.</returns>
    public static string? WhyNone(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        if (name.FirstOrDefault(Markup.Contains) is not '\0' and var mark)
        {
            return $"a name in plain letters; \"{mark}\" looks like markup that came along";
        }

        if (name.Length > LongestUsual)
        {
            return FormattableString.Invariant($"a name of at most {LongestUsual} characters; this has {name.Length}");
        }

        if (!name.Any(char.IsLetter))
        {
            return IsCasNumber(name)
                ? $"a name; a CAS number has a column of its own{(CasNumber.IsValid(name) ? "" : ", and this one's check digit is wrong")}"
                : "a name, which has letters";
        }

        if (Placeholder().IsMatch(name))
        {
            return "the compound's name; this stands where a name is still to be written";
        }

        if (Formula().IsMatch(name))
        {
            return "a name; a formula follows from the structure and is no name";
        }

        return Sentence().IsMatch(name) ? "a name; a sentence about the compound belongs into its note" : null;
    }

    [GeneratedRegex(
        @"^(tb[adc]|todo|xxx*|n/?a|none|nil|null|unknown|unnamed|untitled|name|compound|test|see (above|below|note|there)|as above|as before|ditto|idem|same)[.?!]*$",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Placeholder();

    // Carbon first, then hydrogen, as formulas of organic compounds are written (Hill).
    [GeneratedRegex(@"^C\d*H\d*(?:[A-Z][a-z]?\d*)*$(?<=\d.*)", RegexOptions.CultureInvariant)]
    private static partial Regex Formula();

    // Small words of English that stand between the words of sentences and not of names, or the mark at its end.
    [GeneratedRegex(
        @"\s(?:is|are|was|were|the|this|that|has|have|not|should|please|which|same)\s|\p{L}{2}\s+\p{L}+[.!?]$|[!?]$",
        RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Sentence();

    // Digits, two digits and one, whatever the check digit.
    private static bool IsCasNumber(string name) => name.Split('-') is [{ Length: >= 2 and <= 7 }, { Length: 2 }, { Length: 1 }] parts
        && parts.All(part => part.All(char.IsAsciiDigit));
}
