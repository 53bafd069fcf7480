using System.Collections.Immutable;
using System.Globalization;
using System.Text;

namespace Derivid.Core.Structures;

/// <summary>How many atoms of each element a molecule holds.</summary>
/// <remarks>
/// Text: Hill order (C, H, then the rest by symbol; all by symbol where there is no C), a count of 1 left out.
/// Charge and isotopes are no part of it. Bounds: counts 1 to 1,000,000; elements of
/// <see cref="StandardAtomicWeights"/>. Equality: same elements, same counts. Thread safety: immutable.
/// Source of the order: E. A. Hill, J. Am. Chem. Soc. 1900, 22, 478-494.
/// </remarks>
public sealed class MolecularFormula : IEquatable<MolecularFormula>
{
    private const int MaximumCount = 1_000_000;

    private readonly string _hill;

    private MolecularFormula(ImmutableSortedDictionary<string, int> counts)
    {
        Counts = counts;
        _hill = Hill(counts);
    }

    /// <summary>No atoms at all.</summary>
    public static MolecularFormula Empty { get; } =
        new(ImmutableSortedDictionary.Create<string, int>(StringComparer.Ordinal));

    /// <summary>Water, which a condensation gives off.</summary>
    public static MolecularFormula Water { get; } = Parse("H2O");

    /// <summary>Atoms by element symbol. Shape: ordinal order of symbols; no zero counts.</summary>
    public IReadOnlyDictionary<string, int> Counts { get; }

    /// <summary>Molar mass from <see cref="StandardAtomicWeights"/>. Units: g/mol.</summary>
    public double MolarMass => Counts.Sum(entry => entry.Value * StandardAtomicWeights.Of(entry.Key)!.Value);

    /// <summary>Atoms of one element; 0 where there are none.</summary>
    /// <param name="symbol">Element symbol, such as "Cl".</param>
    public int CountOf(string symbol) => Counts.GetValueOrDefault(symbol);

    /// <summary>A formula from counts by element.</summary>
    /// <param name="counts">Symbol and count; zero counts are left out, repeated symbols added up.</param>
    /// <exception cref="ArgumentException">An element is unknown, or a count negative or above the bound.</exception>
    public static MolecularFormula FromCounts(IEnumerable<KeyValuePair<string, int>> counts)
    {
        ArgumentNullException.ThrowIfNull(counts);
        var sums = new Dictionary<string, long>(StringComparer.Ordinal);
        foreach ((string symbol, int count) in counts)
        {
            sums[symbol] = sums.GetValueOrDefault(symbol) + count;
        }

        return FromSums(sums);
    }

    /// <summary>Reads a formula such as "C9H10N4O4".</summary>
    /// <param name="text">Element symbols, each once, in any order, followed by the count unless that is 1.</param>
    /// <exception cref="ArgumentException">The text is not such a formula; the message says where and why.</exception>
    public static MolecularFormula Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return TryParse(text, out MolecularFormula? formula, out string? error)
            ? formula!
            : throw new ArgumentException(error, nameof(text));
    }

    /// <summary>Reads a formula such as "C9H10N4O4".</summary>
    /// <param name="text">As for <see cref="Parse"/>.</param>
    /// <param name="formula">The formula. Missing: null where the answer is false.</param>
    /// <param name="error">What is wrong, in a sentence. Missing: null where the answer is true.</param>
    /// <returns>Whether the text was read.</returns>
    public static bool TryParse(string? text, out MolecularFormula? formula, out string? error)
    {
        formula = null;
        error = HillText.Read(text ?? "", MaximumCount, out Dictionary<string, long> counts);
        if (error is not null)
        {
            return false;
        }

        formula = FromSums(counts);
        return true;
    }

    /// <summary>The atoms of both.</summary>
    /// <exception cref="ArgumentException">A count would pass the bound.</exception>
    public static MolecularFormula operator +(MolecularFormula left, MolecularFormula right) =>
        Combine(left, right, 1);

    /// <summary>The atoms of the first without those of the second.</summary>
    /// <exception cref="ArgumentException">The second holds more of an element than the first.</exception>
    public static MolecularFormula operator -(MolecularFormula left, MolecularFormula right) =>
        Combine(left, right, -1);

    /// <summary>The formula taken several times; 0 times is <see cref="Empty"/>.</summary>
    /// <exception cref="ArgumentException">The factor is negative or a count would pass the bound.</exception>
    public static MolecularFormula operator *(int times, MolecularFormula formula)
    {
        ArgumentNullException.ThrowIfNull(formula);
        return times < 0
            ? throw new ArgumentException($"A formula cannot be taken {times} times, only 0 or more.", nameof(times))
            : FromSums(formula.Counts.ToDictionary(entry => entry.Key, entry => (long)entry.Value * times));
    }

    /// <inheritdoc cref="op_Multiply(int, MolecularFormula)"/>
    public static MolecularFormula operator *(MolecularFormula formula, int times) => times * formula;

    /// <summary>Same elements, same counts.</summary>
    public static bool operator ==(MolecularFormula? left, MolecularFormula? right) => Equals(left, right);

    /// <summary>Not the same elements and counts.</summary>
    public static bool operator !=(MolecularFormula? left, MolecularFormula? right) => !Equals(left, right);

    /// <inheritdoc/>
    public bool Equals(MolecularFormula? other) => other is not null && _hill == other._hill;

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as MolecularFormula);

    /// <inheritdoc/>
    public override int GetHashCode() => StringComparer.Ordinal.GetHashCode(_hill);

    /// <summary>The formula in Hill order; empty text for no atoms.</summary>
    public override string ToString() => _hill;

    private static MolecularFormula Combine(MolecularFormula left, MolecularFormula right, int sign)
    {
        ArgumentNullException.ThrowIfNull(left);
        ArgumentNullException.ThrowIfNull(right);
        var sums = left.Counts.ToDictionary(entry => entry.Key, entry => (long)entry.Value);
        foreach ((string symbol, int count) in right.Counts)
        {
            sums[symbol] = sums.GetValueOrDefault(symbol) + (sign * count);
        }

        return FromSums(sums);
    }

    private static MolecularFormula FromSums(Dictionary<string, long> sums)
    {
        ImmutableSortedDictionary<string, int>.Builder counts =
            ImmutableSortedDictionary.CreateBuilder<string, int>(StringComparer.Ordinal);
        foreach ((string symbol, long count) in sums.Where(entry => entry.Value != 0))
        {
            if (StandardAtomicWeights.Of(symbol) is null)
            {
                throw new ArgumentException($"\"{symbol}\" is no element with a standard atomic weight.", nameof(sums));
            }

            if (count is < 0 or > MaximumCount)
            {
                throw new ArgumentException(
                    $"The formula would hold {count} atoms of {symbol}; 0 to {MaximumCount} is allowed.", nameof(sums));
            }

            counts[symbol] = (int)count;
        }

        return new MolecularFormula(counts.ToImmutable());
    }

    private static string Hill(ImmutableSortedDictionary<string, int> counts)
    {
        bool organic = counts.ContainsKey("C");
        var text = new StringBuilder();
        foreach ((string symbol, int count) in counts.OrderBy(entry => organic ? HillRank(entry.Key) : 2))
        {
            text.Append(symbol);
            if (count > 1)
            {
                text.Append(count);
            }
        }

        return text.ToString();
    }

    private static int HillRank(string symbol) => symbol switch { "C" => 0, "H" => 1, _ => 2 };
}

/// <summary>Reads the text of a molecular formula.</summary>
internal static class HillText
{
    private const int MaximumLength = 200;

    /// <summary>Counts by symbol, or the sentence that says what is wrong.</summary>
    public static string? Read(string text, int maximumCount, out Dictionary<string, long> counts)
    {
        counts = new Dictionary<string, long>(StringComparer.Ordinal);
        if (text.Length is 0 or > MaximumLength)
        {
            return $"A molecular formula has 1 to {MaximumLength} characters, not {text.Length}.";
        }

        int at = 0;
        while (at < text.Length)
        {
            string? error = ReadElement(text, maximumCount, ref at, counts);
            if (error is not null)
            {
                return error;
            }
        }

        return null;
    }

    private static string? ReadElement(string text, int maximumCount, ref int at, Dictionary<string, long> counts)
    {
        int start = at;
        if (!char.IsAsciiLetterUpper(text[at]))
        {
            return $"\"{text[at]}\" at character {at + 1} of the molecular formula does not start an element symbol; "
                + "allowed are element symbols, each once, each followed by its count unless that is 1.";
        }

        at++;
        while (at < text.Length && char.IsAsciiLetterLower(text[at]))
        {
            at++;
        }

        string symbol = text[start..at];
        if (StandardAtomicWeights.Of(symbol) is null)
        {
            return $"\"{symbol}\" at character {start + 1} of the molecular formula is no element with a standard "
                + "atomic weight.";
        }

        int digits = at;
        while (at < text.Length && char.IsAsciiDigit(text[at]))
        {
            at++;
        }

        if (!TryCount(text[digits..at], maximumCount, out int count))
        {
            return $"\"{text[digits..at]}\" at character {digits + 1} of the molecular formula is no count; allowed "
                + $"are 2 to {maximumCount} without leading zeros, and no figure for 1.";
        }

        return counts.TryAdd(symbol, count)
            ? null
            : $"{symbol} comes again at character {start + 1} of the molecular formula; name each element once.";
    }

    private static bool TryCount(string digits, int maximumCount, out int count)
    {
        count = 1;
        return digits.Length == 0
            || (digits[0] != '0'
                && int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out count)
                && count >= 2
                && count <= maximumCount);
    }
}
