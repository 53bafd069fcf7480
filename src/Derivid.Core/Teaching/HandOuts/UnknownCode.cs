namespace Derivid.Core.Teaching.HandOuts;

/// <summary>The code on the label of an unknown, such as "HK47-TRXC"; it says nothing of what is inside.</summary>
/// <remarks>
/// Shape: seven characters and a check character, shown in two fours. The 19 characters are digits and capitals that are
/// not mistaken for one another in handwriting, without vowels, so that no code spells a word.
/// The check character makes the weighted sum of all eight, weights 1 to 8, a multiple of 19. As 19 is prime, one wrong
/// character or any two exchanged are always found out.
/// Equality: by the characters. Thread safety: immutable.
/// </remarks>
public sealed record UnknownCode
{
    /// <summary>The characters used, in the order of their values 0 to 18.</summary>
    public const string Alphabet = "479BCDFHJKMNPRTVWXY";

    private const int Length = 8;

    private UnknownCode(string characters) => Text = $"{characters[..4]}-{characters[4..]}";

    /// <summary>The code as shown.</summary>
    public string Text { get; }

    /// <summary>The code of a number.</summary>
    /// <param name="number">Any number; codes repeat after 19 to the 7, about 894 million.</param>
    public static UnknownCode FromNumber(ulong number)
    {
        Span<char> characters = stackalloc char[Length];
        var sum = 0;
        for (var i = 0; i < Length - 1; i++)
        {
            var value = (int)(number % (ulong)Alphabet.Length);
            number /= (ulong)Alphabet.Length;
            characters[i] = Alphabet[value];
            sum += (i + 1) * value;
        }

        // The last weight is 8; the check value is the one that brings the sum to a multiple of 19.
        for (var value = 0; value < Alphabet.Length; value++)
        {
            if ((sum + (Length * value)) % Alphabet.Length == 0)
            {
                characters[Length - 1] = Alphabet[value];
            }
        }

        return new UnknownCode(new string(characters));
    }

    /// <summary>Reads a code as someone typed it: either case, with or without hyphen and spaces.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="code">The code. Missing: null where the answer is false.</param>
    /// <param name="error">What is wrong, in a sentence. Missing: null where the answer is true.</param>
    /// <returns>Whether the text is a code.</returns>
    public static bool TryParse(string? text, out UnknownCode? code, out string? error)
    {
        code = null;
        var characters = string.Concat((text ?? "").Where(c => c != '-' && !char.IsWhiteSpace(c))).ToUpperInvariant();
        error = Fault(characters);
        if (error is null)
        {
            code = new UnknownCode(characters);
        }

        return error is null;
    }

    /// <inheritdoc/>
    public override string ToString() => Text;

    private static string? Fault(string characters)
    {
        if (characters.Length != Length)
        {
            return $"\"{characters}\" has {characters.Length} characters; the code of an unknown has {Length}.";
        }

        var sum = 0;
        for (var i = 0; i < Length; i++)
        {
            var value = Alphabet.IndexOf(characters[i], StringComparison.Ordinal);
            if (value < 0)
            {
                return $"\"{characters}\" holds '{characters[i]}'; codes are made of {Alphabet} only.";
            }

            sum += (i + 1) * value;
        }

        return sum % Alphabet.Length == 0
            ? null
            : $"\"{characters}\" is no code that was ever handed out: a character is wrong or two are exchanged.";
    }
}
