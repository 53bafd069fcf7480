namespace Derivid.Core.Compounds;

/// <summary>CAS Registry Numbers, such as "67-64-1".</summary>
public static class CasNumber
{
    private const int LongestText = 12;

    /// <summary>What is allowed, in a sentence, for messages.</summary>
    public const string Allowed =
        "two to seven digits, two digits and a check digit, as in 67-64-1; the check digit is the sum of the others, each times its place from the right, modulo 10";

    /// <summary>Whether a text has the form and the check digit of a CAS Registry Number.</summary>
    /// <param name="text">Any text.</param>
    /// <remarks>Source: CAS, "Check digit verification of CAS Registry Numbers"; rule recalled.</remarks>
    public static bool IsValid(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var parts = text.Split('-');
        if (text.Length > LongestText || parts.Length != 3 || parts[0].Length is < 2 or > 7 || parts[0][0] == '0'
            || parts[1].Length != 2 || parts[2].Length != 1 || !parts.All(part => part.All(char.IsAsciiDigit)))
        {
            return false;
        }

        var sum = (parts[0] + parts[1]).Reverse().Select((digit, place) => (digit - '0') * (place + 1)).Sum();
        return sum % 10 == parts[2][0] - '0';
    }
}
