using System.CommandLine;
using Derivid.Contracts;
using Derivid.Core;

namespace Derivid.Cli;

/// <summary>Makes options whose values are read by a rule of ours, with an error that says what is allowed.</summary>
internal static class OptionOf
{
    /// <summary>An option that may be given several times.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="form">What its value looks like.</param>
    /// <param name="description">What it is.</param>
    /// <param name="read">Reads a value; throws <see cref="FormatException"/>.</param>
    public static Option<T[]> Many<T>(string name, string form, string description, Func<string, T> read) => new(name)
    {
        Description = description + " May be repeated.",
        HelpName = form,
        Arity = ArgumentArity.OneOrMore,
        CustomParser = result =>
        {
            var values = new List<T>();
            foreach (var token in result.Tokens)
            {
                try
                {
                    values.Add(read(token.Value));
                }
                catch (FormatException fault)
                {
                    result.AddError($"{name}: {fault.Message}");
                }
            }

            return [.. values];
        },
    };

    /// <summary>A number; with a decimal comma too.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="unit">Its unit.</param>
    /// <param name="description">What it is.</param>
    public static Option<double?> Number(string name, string unit, string description) => new(name)
    {
        Description = description,
        HelpName = unit,
        CustomParser = result =>
        {
            try
            {
                return Number(result.Tokens[0].Value);
            }
            catch (FormatException fault)
            {
                result.AddError($"{name}: {fault.Message}");
                return null;
            }
        },
    };

    /// <summary>Reads a number.</summary>
    /// <exception cref="FormatException">It is none.</exception>
    public static double Number(string text) =>
        Figure.Read(text) ?? throw new FormatException($"\"{text}\" is no number; write it like 2.5.");

    /// <summary>Reads one of a few words, in either case.</summary>
    /// <exception cref="FormatException">It is none of them; the message names them.</exception>
    public static T Word<T>(string text)
        where T : struct, Enum
    {
        var words = Enum.GetNames<T>();
        return words.Contains(text.Trim(), StringComparer.OrdinalIgnoreCase)
            ? Enum.Parse<T>(text, ignoreCase: true)
            : throw new FormatException(
                $"\"{text}\" is not known; allowed: {string.Join(", ", Enum.GetValues<T>().Select(word => WireJson.Word(word)))}.");
    }
}
