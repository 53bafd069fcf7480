using System.Diagnostics.CodeAnalysis;

namespace Derivid.Api.Http;

/// <summary>Either a value or the problem that stood in its way.</summary>
/// <typeparam name="T">What is wanted.</typeparam>
public readonly struct Outcome<T>
    where T : class
{
    private readonly T? _value;
    private readonly Problem? _problem;

    private Outcome(T? value, Problem? problem)
    {
        _value = value;
        _problem = problem;
    }

    /// <summary>Succeeded with a value.</summary>
    /// <param name="value">The value.</param>
    public static implicit operator Outcome<T>(T value) => new(value, null);

    /// <summary>Failed with a problem.</summary>
    /// <param name="problem">The problem.</param>
    public static implicit operator Outcome<T>(Problem problem) => new(null, problem);

    /// <summary>Takes it apart.</summary>
    /// <param name="value">The value, when this returns true.</param>
    /// <param name="problem">The problem, when this returns false.</param>
    /// <returns>Whether there is a value.</returns>
    public bool Succeeded([NotNullWhen(true)] out T? value, [NotNullWhen(false)] out Problem? problem)
    {
        (value, problem) = (_value, _problem);
        return value is not null;
    }
}
