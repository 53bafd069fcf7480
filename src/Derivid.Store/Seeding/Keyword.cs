using System.Text.RegularExpressions;

namespace Derivid.Store.Seeding;

/// <summary>The words that stand for enumeration members in table files: lower case, hyphens between words.</summary>
public static partial class Keyword
{
    /// <summary>The word for a member, such as "cross-checked" for CrossChecked.</summary>
    public static string Of<TEnum>(TEnum member)
        where TEnum : Enum =>
        WordStart().Replace(member.ToString(), "-$0").ToLowerInvariant();

    /// <summary>Finds the member that a word stands for.</summary>
    /// <returns>Missing: null when no member has that word.</returns>
    public static TEnum? Find<TEnum>(string word)
        where TEnum : struct, Enum
    {
        foreach (var member in Enum.GetValues<TEnum>())
        {
            if (Of(member) == word)
            {
                return member;
            }
        }

        return null;
    }

    /// <summary>All words of an enumeration, in its order, for messages.</summary>
    public static string Words<TEnum>()
        where TEnum : struct, Enum =>
        string.Join(", ", Enum.GetValues<TEnum>().Select(Of));

    [GeneratedRegex("(?<!^)[A-Z]")]
    private static partial Regex WordStart();
}
