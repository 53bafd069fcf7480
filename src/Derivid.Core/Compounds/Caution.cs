namespace Derivid.Core.Compounds;

/// <summary>A caution of the table as it is shown: the table keeps what is particular, the deferral is said here.</summary>
public static class Caution
{
    /// <summary>What every caution shown by itself closes with.</summary>
    public const string Deferral = "Local rules and the supplier's safety data sheet decide.";

    /// <summary>What a list of cautions closes with, in the place of a deferral after each.</summary>
    public const string DeferralOfList =
        "These are the usual cautions, not a risk assessment: local rules, the supplier's safety data sheets and the supervisor decide.";

    /// <summary>What stands on the label of every vial of unknowns from one shelf, whatever is inside.</summary>
    /// <remarks>
    /// One text for all of them, of the whole shelf: one for what is inside would tell what it is. That a carbonyl compound nobody
    /// has identified yet is taken as flammable and harmful is common practice, without a source. Each caution of the table is a
    /// sentence of its own and stands whole: curators write what they like into the cell, and half a phrase warns of nothing. What another one
    /// begins with is left out beside it.
    /// </remarks>
    /// <param name="shelf">The table's cautions for the compounds of the shelf. Missing: null, a compound has none.</param>
    public static string OfUnknown(IEnumerable<string?> shelf)
    {
        var cautions = shelf.OfType<string>().Select(Sentence).Where(caution => caution.Any(char.IsLetterOrDigit))
            .Distinct(StringComparer.OrdinalIgnoreCase).Order(StringComparer.Ordinal).ToList();
        cautions.RemoveAll(caution => cautions.Exists(other => other.StartsWith(caution[..^1] + ";", StringComparison.OrdinalIgnoreCase)));
        return "Take as flammable and harmful." + (cautions.Count == 0 ? "" : $" Some of this shelf: {string.Join(' ', cautions)}");
    }

    private static string Sentence(string caution)
    {
        var words = string.Join(' ', caution.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)).Trim(' ', ',', ';', '.');
        return words.Length == 0 ? "" : char.ToUpperInvariant(words[0]) + words[1..] + ".";
    }

    /// <summary>A caution shown by itself.</summary>
    /// <param name="caution">The table's caution for a kind or a test.</param>
    public static string ByItself(string caution) => $"{caution}{(caution.EndsWith('.') ? "" : ".")} {Deferral}";

    /// <summary>The caution of a compound, shown by itself.</summary>
    /// <param name="recorded">The table's. Missing: null, it has none, which is not to say that there is nothing to beware of.</param>
    public static string OfCompound(string? recorded) =>
        ByItself(recorded is null ? "None is recorded: take it as flammable and harmful." : Sentence(recorded));
}
